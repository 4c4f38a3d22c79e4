// Package shape holds tanks that are typed in rather than scanned: boxes, drums and
// stacks of cross-sections, and the plates that stand in them. Each can say whether a
// point is inside it and give its surface as a mesh; the two test each other.
//
// Shapes are the inside of the tank, in metres, in the tank's own frame: x to the
// front, y to the left, z up, the lowest point on z = 0 unless a type says otherwise.
package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
)

// Shape is a closed tank. Contains, Bounds, Mesh and Volume mean something only when
// Validate returns nil.
type Shape interface {
	// Validate says what is wrong with the sizes, by name and value, and the way out.
	Validate() error
	// Bounds returns the smallest box around the inside.
	Bounds() geometry.Box
	// Contains reports whether the point lies inside; the wall itself counts as inside.
	Contains(p geometry.Vec) bool
	// Mesh returns the wall, closed and turned outward, its corners exactly on the wall
	// and its facets at most about edge metres long where the wall is curved. An edge
	// that is not above zero counts as DefaultEdge.
	Mesh(edge float64) geometry.Mesh
	// Volume returns the inside volume by formula, m³, and whether there is one.
	Volume() (float64, bool)
}

// DefaultEdge is the facet length that keeps the volume of a 15 L tank within 0.1 %, m.
const DefaultEdge = 0.004

// Sizes outside of which a length is taken for a slip, m.
const (
	smallest = 1e-4
	largest  = 20.0
)

// Axis is the way a drum or a stack runs.
type Axis int

// The axes that a shape may run along. The zero value is Lying.
const (
	Lying   Axis = iota // along x
	Upright             // along z
)

// String returns the trade's word.
func (a Axis) String() string {
	if a == Upright {
		return "upright"
	}
	return "lying"
}

// place maps a shape's own (s, a, b), s along its axis and (s, a, b) right-handed, to
// the tank's (x, y, z): lying (x, y, z), upright (z, x, y).
func (a Axis) place(s, u, v float64) geometry.Vec {
	if a == Upright {
		return geometry.Vec{X: u, Y: v, Z: s}
	}
	return geometry.Vec{X: s, Y: u, Z: v}
}

// local is the inverse of place.
func (a Axis) local(p geometry.Vec) (s, u, v float64) {
	if a == Upright {
		return p.Z, p.X, p.Y
	}
	return p.X, p.Y, p.Z
}

// needSize returns an error unless length lies above 0 and is no slip.
func needSize(what string, length float64) error {
	if !(length >= smallest && length <= largest) {
		return fmt.Errorf("%s is %s: give a length from %s to %g m", what, mm(length), mm(smallest), largest)
	}
	return nil
}

// needNotNegative returns an error unless length is 0 or a size.
func needNotNegative(what string, length float64) error {
	if length == 0 {
		return nil
	}
	return needSize(what, length)
}

// needPlace returns an error unless the coordinate is finite and no slip.
func needPlace(what string, coordinate float64) error {
	if !(math.Abs(coordinate) <= largest) {
		return fmt.Errorf("%s is %s: give a place within %g m of the origin", what, mm(coordinate), largest)
	}
	return nil
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// mm prints a length as messages show it.
func mm(length float64) string { return fmt.Sprintf("%.4g mm", length*1000) }
