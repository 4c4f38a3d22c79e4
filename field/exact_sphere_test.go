package field

import (
	"math"
	"testing"

	"evenwall/field/electrode"
	"evenwall/geometry"
)

// ball is a held sphere in a shell of 100 mm with a film, both as meshes.
type ball struct {
	radius float64 // of the inner sphere, m
	h      float64 // spacing, m
	film   float64 // on the shell, ohm m²
}

// perVolt returns the exact current, A: 4 pi kappa / (1/a − 1/b) with the film in series.
func (b ball) perVolt() float64 {
	return 1 / ((1/b.radius-1/shellRadius)/(4*math.Pi*cellKappa) + b.film/(4*math.Pi*shellRadius*shellRadius))
}

// solve turns the spheres by odd angles; facets are finer than the lattice by as much at any
// spacing: they are not what is tested.
func (b ball) solve(t *testing.T) *rigged { return b.rig([2]float64{0.13, 0.31}).solve(t) }

// rig returns the spheres on a lattice moved by shift, in spacings.
func (b ball) rig(shift [2]float64) *rig {
	cuts := 6 - int(math.Round(math.Log2(b.h/8e-3)))
	mesh := sphere(shellRadius, cuts)
	wall := len(mesh.Faces)
	inner := sphere(b.radius, cuts-1)
	for i := range inner.Faces { // the liquid is outside it
		f := &inner.Faces[i]
		f[0], f[1] = f[1], f[0]
	}
	mesh.Append(inner)
	return &rig{mesh: mesh, steel: func(f int) bool { return f < wall }, turn: oddTurn(), h: b.h, shift: shift,
		law: electrode.Film{Resistance: b.film}, held: func(geometry.Vec) (float64, bool) { return 1, true }}
}

// of holds the solution's wall current to the exact one.
func (b ball) of(s *rigged) misfit {
	all, _ := s.read()
	want := b.perVolt() / (4 * math.Pi * shellRadius * shellRadius)
	return compare(all, func(*reading) (float64, bool) { return want, true })
}

func (b ball) misfit(t *testing.T) misfit { return b.of(b.solve(t)) }

// ballRow: a sphere of 10 mm in one of 100 mm.
func ballRow(t *testing.T, what string, film float64) exactRow {
	b := ball{0.010, 4e-3, film}
	s := b.solve(t)
	r := exactRow{what: what, against: "exact"}
	r.measured(t, "R", percent(s.intoSteel(), b.perVolt()), 0.3)
	r.measured(t, "wall current L2", b.of(s).l2, 1.5)
	return r
}
