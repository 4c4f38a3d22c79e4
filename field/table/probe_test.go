package table

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/field"
	"evenwall/geometry"
)

func TestProbe(t *testing.T) {
	s := newSaddle(t, 3e-3)
	set := s.settings()
	set.Fine = s.fine
	tab, err := Build(context.Background(), s.coarse, s.rough, set)
	require.NoError(t, err)
	on := s.fine.RecoveryOn(tab.nearest)
	r := rand.New(rand.NewPCG(7, 8))
	refs := tab.references()
	back := s.vessel.Turn.Inverse()
	for k := range 8 {
		rods := s.layout(r, 1)
		turned := s.coarse.Turned(rods[0])
		if k < len(refs) {
			turned = refs[k]
			rods[0] = refs[k]
			rods[0].Path = []geometry.Vec{back.Apply(refs[k].Path[0]), back.Apply(refs[k].Path[1])}
			t.Log(refs[k].Path, refs[k].Bare)
		}
		raw, err := tab.evaluate([]geometry.Rod{turned}, correction{})
		require.NoError(t, err)
		right, err := tab.evaluate([]geometry.Rod{turned}, tab.right)
		require.NoError(t, err)
		want := s.solve(t, set, rods, s.fine, s.exact)
		mapped, err := tab.exactly(context.Background(), s.fine, on, turned)
		require.NoError(t, err)
		show := func(name string, j []float64) {
			u := field.NewUniformity(tab.patches, j)
			var out []float64
			for _, q := range shares {
				out = append(out, 100*(u.Percentile(q)/want.even.Percentile(q)-1))
			}
			t.Logf("%-8s mean %+.2f %% %+.2f", name, 100*(u.Mean()/want.even.Mean()-1), out)
		}
		rms := func(name string, j []float64) {
			sum, all, mean := 0.0, 0.0, 0.0
			for pass := range 2 {
				for i, p := range tab.patches {
					if mapped[i] < 0.02*want.even.Mean() || j[i] <= 0 {
						continue
					}
					d := math.Log(j[i] / mapped[i])
					if pass == 0 {
						mean += d * p.Area
						all += p.Area
					} else {
						sum += (d - mean) * (d - mean) * p.Area
					}
				}
				if pass == 0 {
					mean /= all
				}
			}
			t.Logf("%-8s mean log %+.2f %%, rms %.2f %%", name, 100*mean, 100*math.Sqrt(sum/all))
		}
		rms("raw", raw.Rate)
		rms("right", right.Rate)
		c := s.solve(t, set, rods, s.coarse, s.rough)
		rms("coarse", c.rate)
		show("mapped", mapped)
		show("raw", raw.Rate)
		show("right", right.Rate)
		show("coarse", c.rate)
	}
}
