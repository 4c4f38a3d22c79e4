package field

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/field/electrode"
	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// sphereRows: a held sphere of radius 10 mm in a shell of 100 mm, both as meshes, 4 mm.
// Exact: R = (1/a − 1/b) / (4 pi kappa), a film at b in series.
func sphereRows(t *testing.T) []exactRow {
	const a, b, h = 0.010, 0.100, 0.004
	outer, inner := sphere(b, 6), sphere(a, 4)
	shell := geometry.Mesh{}
	shell.Append(outer)
	shell.Append(inner)
	for i := len(outer.Faces); i < len(shell.Faces); i++ { // the liquid is outside the inner ball
		f := &shell.Faces[i]
		f[0], f[1] = f[1], f[0]
	}
	l, err := lattice.New(lattice.Placement{Bounds: outer.Bounds(), Level: b + 0.01, H: h, Shift: [2]float64{0.13, 0.31}})
	require.NoError(t, err)
	q := lattice.Fill(lattice.Filling{Surface: lattice.Enclose(l, &shell), Shell: &shell, Level: b + 0.01})
	wall := geometry.Mesh{Vertices: shell.Vertices, Faces: shell.Faces[:len(outer.Faces)]}
	steel := &Steel{Mesh: wall, Inner: make([]bool, len(wall.Faces)), Outer: make([]bool, len(wall.Faces))}
	for i := range steel.Inner {
		steel.Inner[i] = true
	}
	rec := NewRecovery(q, steel, geometry.NewTree(&wall))
	var rows []exactRow
	for _, film := range []float64{0, 0.02} {
		p := &Problem{Liquid: q, Level: b + 0.01, Conductivity: cellKappa, Wall: electrode.Film{Resistance: film},
			Normal: func(f int32) geometry.Vec { return shell.Triangle(int(f)).Normal() }, Supply: Supply{Voltage: 1},
			Held: func(k *lattice.Link) (float64, bool) { return 1, int(k.Face) >= len(outer.Faces) }}
		s, err := Solve(context.Background(), p, Settings{})
		require.NoError(t, err)
		j, _ := s.WallCurrent(rec)
		exact := 1 / ((1/a-1/b)/(4*math.Pi*cellKappa) + film/(4*math.Pi*b*b))
		into, sum, norm := s.solver.intoWall(func(c *contact) bool { return c.held == nil }), 0.0, 0.0
		want := exact / (4 * math.Pi * b * b)
		for i, patch := range rec.Patches.All {
			sum += (j[i] - want) * (j[i] - want) * patch.Area
			norm += want * want * patch.Area
		}
		r := exactRow{what: "sphere in a sphere, 4 mm", against: "exact"}
		if film > 0 {
			r.what = "the same, film 0.02 ohm m2"
		}
		r.measured(t, "R", 100*(into/exact-1), 0.3)
		r.measured(t, "wall current L2", 100*math.Sqrt(sum/norm), 1.5)
		rows = append(rows, r)
	}
	return rows
}
