package table

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// bent returns a random rod bent once by 30 to 110 degrees, bare from the tip past the bend or
// on one of its legs, as near to steel as the clearance allows.
func (s *saddle) bent(r *rand.Rand) geometry.Rod {
	bounds := s.coarse.Steel.Mesh.Bounds()
	at := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	point := func() geometry.Vec {
		return geometry.V(at(bounds.Min.X, bounds.Max.X), at(bounds.Min.Y, bounds.Max.Y), at(bounds.Min.Z, bounds.Max.Z))
	}
	for {
		passes := s.space.Openings[0].Centre.Add(geometry.V(at(-0.02, 0.02), at(-0.02, 0.02), 0))
		corner, tip, radius := point(), point(), s.space.Radii[r.IntN(len(s.space.Radii))]
		top := passes.AddScaled(passes.Sub(corner).Unit(), 0.06)
		path, err := geometry.Bent(tip, corner, top, 6*radius)
		if err != nil || top.Z < 0.2 {
			continue
		}
		rod := geometry.Rod{Name: "bent", Path: path, Radius: radius, Sleeve: radius + 0.002}
		turn := rod.Turning() * 180 / math.Pi
		from := at(0, 0.08) * float64(r.IntN(2))
		rod.Bare = []geometry.Span{{From: from, To: from + at(0.04, 0.2)}}
		all := geometry.Span{From: 0, To: rod.Length()}
		if turn < 30 || turn > 110 || rod.Bare[0].To > rod.Length()-0.08 || geometry.BareClearance(&rod, s.space.Steel, nil).Distance < clearance ||
			geometry.OutsideClearance(&rod, s.space.Steel, all).Distance < 1e-3 {
			continue
		}
		return rod
	}
}

// Random bent rods by the table, against the solve of each on a lattice of 4 mm. The bounds are
// what was reached, rounded up.
func TestTableOfBentRods(t *testing.T) {
	s := newSaddle(t, 4e-3)
	tab, err := Build(context.Background(), s.coarse, s.rough, s.settings())
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(11, 12))
	var all []far
	for range 10 {
		rods := []geometry.Rod{s.bent(r)}
		e, err := tab.Evaluate(context.Background(), rods)
		require.NoError(t, err)
		f := compare(e, tab.patches, s.solve(t, s.settings(), rods, s.fine, s.exact))
		all = append(all, f)
	}
	hold := func(name string, most float64, of func(far) float64) {
		d := distribution(all, of)
		t.Logf("%-8s %v", name, d)
		assert.LessOrEqual(t, d.most(1), most, name)
	}
	hold("current", 0.02, func(f far) float64 { return f.current })
	hold("metal", 0.1, func(f far) float64 { return f.most })
	for i, q := range shares {
		hold(fmt.Sprintf("p%.0f", 100*q), 0.035, func(f far) float64 { return f.percentile[i] })
	}
}
