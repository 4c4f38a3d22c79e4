package field

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// A source at a cell's centre does the same to the wall whichever of the two ways it is put
// into the lattice, and one that moves across a cell does so smoothly.
func TestAnswerFromAnyPlace(t *testing.T) {
	r := references(t)[0]
	f := r.fill(t, Grid{Spacing: 6e-3})
	rec := f.Recovery()
	slopes := NewByWall(f, rec)
	for i := range slopes.Links {
		slopes.Links[i] = 0.02
	}
	for i := range slopes.Patches {
		slopes.Patches[i] = 0.02
	}
	g, err := NewGreen(r.problem(f), rec, slopes)
	require.NoError(t, err)
	s, out := g.NewSolver(), make([]PointAnswer, SideBySide)
	index, ok := f.Liquid.Lattice.Nearest(mm(-60, 12, 120))
	require.True(t, ok)
	cell := f.Liquid.Find(index)
	require.NoError(t, s.Answer(context.Background(), []int32{cell}, nil, out))
	centred := append([]float32(nil), out[0].Wall...)

	at, half := f.Liquid.Point(cell), geometry.V(f.Liquid.Lattice.H/2, 0, 0)
	places := []geometry.Vec{at, at.Add(half.Scale(0.999)), at.Add(half.Scale(1.001))}
	require.NoError(t, s.AnswerFrom(context.Background(), places, out))
	apart := func(a, b []float32) float64 { // root mean square over the wall, as a share of the mean
		sum, area := 0.0, rec.Patches.Area()
		for i, p := range rec.Patches.All {
			sum += p.Area * math.Pow(float64(a[i]-b[i])*area, 2)
		}
		return math.Sqrt(sum / area)
	}
	t.Logf("the two ways: %.1e; from cell to cell: %.1e; over half a cell: %.1e", apart(centred, out[0].Wall), apart(out[1].Wall, out[2].Wall), apart(out[0].Wall, out[1].Wall))
	assert.Less(t, apart(centred, out[0].Wall), 3e-3)
	assert.Less(t, apart(out[1].Wall, out[2].Wall), 3e-3)
	assert.Greater(t, apart(out[0].Wall, out[1].Wall), 1e-2) // 3 mm nearer to some wall
	assert.ErrorIs(t, s.AnswerFrom(context.Background(), []geometry.Vec{mm(0, 0, 500)}, out), errNotInLiquid)
}
