package field

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// sliced solves the section through an upright tube of radius 100 mm with a 12 mm rod at the
// offset, 1 V, film 0: reference sizes of Incropera and DeWitt's table 4.1, case 7.
func sliced(t *testing.T, c cell) (*Solution, *Slice) {
	mesh, _ := tubeMesh(shellRadius, cellLength, 720)
	mesh = mesh.Transformed(geometry.RotationAbout(geometry.V(0, 0, 1), 0.3).Apply)
	v, err := vessel.New(vessel.Tank{Shell: mesh})
	require.NoError(t, err)
	f, err := Fill(v, v.Fill(0.25), Grid{Spacing: c.h}, nil)
	require.NoError(t, err)
	s, err := f.Cut(0.013, c.h)
	require.NoError(t, err)
	p := &Problem{Liquid: s.Liquid, Level: s.Level, Flat: c.h, Conductivity: cellKappa, Normal: s.Normal, Supply: Supply{Voltage: 1},
		Anodes: []Anode{{Rod: geometry.Rod{Radius: rodRadius, Bare: []geometry.Span{{From: 0, To: 1}},
			Path: geometry.Straight(geometry.V(c.offset, 0, -0.14), geometry.V(c.offset, 0, 0.2))}}}}
	solution, err := Solve(context.Background(), p, Settings{})
	require.NoError(t, err)
	return solution, s
}

// In two dimensions the section of a long cell is the cell: the same exact figures.
func TestSectionOfARodInACylinder(t *testing.T) {
	for _, c := range []cell{{h: 0.004}, {h: 0.004, offset: 0.03}, {h: 0.004, offset: 0.05}, {h: 0.002, offset: 0.08}} {
		s, slice := sliced(t, c)
		far := 100 * (s.Current/c.h/c.perVolt() - 1)
		r := slice.Recovery()
		j, closure := s.WallCurrent(r)
		sum, norm := 0.0, 0.0
		for i, p := range r.Patches.All {
			want := c.wallCurrent(math.Atan2(p.Centre.Y, p.Centre.X))
			sum += (j[i] - want) * (j[i] - want) * p.Area
			norm += want * want * p.Area
		}
		l2 := 100 * math.Sqrt(sum/norm)
		t.Logf("offset %.0f mm: current %+.3f %%, wall j L2 %.2f %%, closure %.4f, %d iterations", 1000*c.offset, far, l2, closure, s.Outcome.Iterations)
		assert.InDelta(t, 0, far, 0.1)
		assert.Less(t, l2, 1.0)
	}
}
