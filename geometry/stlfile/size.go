package stlfile

import (
	"fmt"
	"math"
	"strings"

	"github.com/hschendel/stl"

	"evenwall/geometry"
)

// Sizes outside of which the unit is taken to be wrong, m.
const (
	leastSize = 0.005
	mostSize  = 20.0
)

// boundsOf returns the box around the corners, m, or an error for numbers that no
// tank's surface can have.
func boundsOf(corners []stl.Vec3, unit Unit) (geometry.Box, error) {
	b := geometry.EmptyBox()
	for i, c := range corners {
		p := metres(c, unit)
		if !p.IsFinite() {
			return b, fmt.Errorf("facet %d has a corner at [%g, %g, %g]: export it again", i/3+1, c[0], c[1], c[2])
		}
		b = b.Include(p)
	}
	s := b.Size()
	if most := math.Max(s.X, math.Max(s.Y, s.Z)); most < leastSize || most > mostSize {
		return b, sizeError(most, unit)
	}
	// A float32 keeps 24 bits: farther away than this the corners are more than 0.1 mm apart.
	far := math.Max(b.Max.Norm(), b.Min.Norm())
	if far*math.Pow(2, -23) > 1e-4 {
		return b, fmt.Errorf("lies %.3g m from its origin, too far for the file's numbers to say its shape: move it to the origin and export again", far)
	}
	return b, nil
}

// sizeError says how long the surface would be in its unit, and in those that would do.
func sizeError(length float64, unit Unit) error {
	var others []string
	for _, u := range units {
		if would := length / unit.Metres() * u.Metres(); would >= leastSize && would <= mostSize {
			others = append(others, fmt.Sprintf("%s (%.4g mm long)", u, would*1000))
		}
	}
	hint := "export it again, with its size in mm"
	if len(others) > 0 {
		hint = "say " + strings.Join(others, " or ")
	}
	return fmt.Errorf("is %.4g mm long when its numbers are %s, no tank: %s", length*1000, unit, hint)
}

func metres(c stl.Vec3, unit Unit) geometry.Vec {
	k := unit.Metres()
	return geometry.Vec{X: float64(c[0]) * k, Y: float64(c[1]) * k, Z: float64(c[2]) * k}
}
