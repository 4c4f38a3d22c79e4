package field

import (
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/field/electrode"
	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

func boxMesh(x, y, z float64) geometry.Mesh {
	m := geometry.Mesh{Faces: [][3]int32{
		{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5},
	}}
	for i := range 8 {
		m.Vertices = append(m.Vertices, geometry.V(x*float64(i&1), y*float64(i>>1&1), z*float64(i>>2)))
	}
	return m
}

func boxProblem(t testing.TB, h, film float64) *Problem {
	m := boxMesh(0.4, 0.25, 0.2)
	l, err := lattice.New(lattice.Placement{Bounds: m.Bounds(), Level: 0.18, H: h})
	require.NoError(t, err)
	s := lattice.Enclose(l, &m)
	q := lattice.Fill(lattice.Filling{Surface: s, Shell: &m, Level: 0.18})
	return &Problem{Liquid: q, Level: 0.18, Conductivity: 0.6, Wall: electrode.Film{Resistance: film},
		Normal: func(f int32) geometry.Vec { return m.Triangle(int(f)).Normal() },
		Supply: Supply{Voltage: 9},
		Anodes: []Anode{{Rod: geometry.Rod{Radius: 0.005, Bare: []geometry.Span{{From: 0, To: 0.19}},
			Path: geometry.Straight(geometry.V(0.1, 0.14, 0.04), geometry.V(0.1, 0.14, 0.23))}}}}
}
