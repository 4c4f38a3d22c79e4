// Package carve joins closed surfaces, cuts one out of another, and trims sheets to
// the inside of a surface. New corners lie on the facets of both, so that the result
// keeps both shapes exactly.
package carve

import (
	"errors"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// ErrTangled is returned when two surfaces cannot be told apart where they meet, such
// as walls that touch in one plane over and over. Moving one by a tenth of a
// millimetre helps.
var ErrTangled = errors.New("the two surfaces touch without properly crossing: move one of them by 0.1 mm")

// Union returns the surface of what lies in a or b. Both must be closed and turned
// outward.
func Union(a, b *geometry.Mesh) (geometry.Mesh, error) {
	return carve(a, b, rule{keepA: outside, keepB: outside})
}

// Difference returns the surface of what lies in a but not in b. Both must be closed
// and turned outward.
func Difference(a, b *geometry.Mesh) (geometry.Mesh, error) {
	return carve(a, b, rule{keepA: outside, keepB: inside, turnB: true})
}

// Trim returns the part of the sheet that lies inside solid. The sheet may be open;
// solid must be closed and turned outward.
func Trim(sheet, solid *geometry.Mesh) (geometry.Mesh, error) {
	return carve(sheet, solid, rule{keepA: inside, keepB: none})
}

// side is where a piece of one surface lies as seen from the other.
type side int

const (
	none side = iota
	inside
	outside
)

// rule says which pieces of the two surfaces the result is made of.
type rule struct {
	keepA, keepB side
	turnB        bool // pieces of b are turned over
}

// nudges are the shifts of b that are tried in turn, m. They stand askew to everything
// that people build, so that no corner of one surface lies on the other; they are far
// below anything that matters.
var nudges = [...]geometry.Vec{
	{X: 1.37e-8, Y: 2.91e-8, Z: 2.13e-8},
	{X: -2.71e-8, Y: 1.13e-8, Z: 3.07e-8},
	{X: 3.31e-8, Y: -2.39e-8, Z: -1.19e-8},
	{X: -1.07e-7, Y: -1.61e-7, Z: 2.33e-7},
}

func carve(a, b *geometry.Mesh, r rule) (geometry.Mesh, error) {
	for _, nudge := range nudges {
		moved := b.Transformed(nudge.Add)
		if m, ok := attempt(a, &moved, r); ok {
			return m, nil
		}
	}
	return geometry.Mesh{}, ErrTangled
}

// attempt carves once. ok is false when the surfaces do not meet in clean curves, or
// closed surfaces did not give a closed one.
func attempt(a, b *geometry.Mesh, r rule) (geometry.Mesh, bool) {
	x := newCrossing(a, b)
	if !x.meet() {
		return geometry.Mesh{}, false
	}
	out := geometry.Mesh{}
	for s, keep := range [...]side{r.keepA, r.keepB} {
		if keep == none {
			continue
		}
		cut, ok := x.split(s)
		if !ok {
			return geometry.Mesh{}, false
		}
		for _, f := range cut.on(keep, x.points, x.mesh[1-s]) {
			if s == 1 && r.turnB {
				f[0], f[1] = f[1], f[0]
			}
			out.Faces = append(out.Faces, f)
		}
	}
	out.Vertices = x.points
	out = tidy(out)
	if r.keepB == none {
		return out, true
	}
	return out, topology.FaultsOf(topology.Edges(&out)) == topology.Faults{}
}
