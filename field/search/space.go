package search

import (
	"errors"
	"fmt"
	"math"

	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// Space is what may be tried. The zero value of a field with a default means the default.
type Space struct {
	Openings  []vessel.Opening // all of the tank's
	Steel     *geometry.Tree   // all steel: wall wet and dry, rims, baffles
	Surface   geometry.Plane   // of the liquid, its upper side up along the plumb line
	Radii     []float64        // of the rods in the drawer, m
	Clearance float64          // least bare metal to steel, m, however far within Off the rod hangs from its place
	Off       geometry.Play    // of the hand that hangs it; zero: it hangs where it is meant to

	// Stretches is how many bare stretches a rod may have, at most 2. Default 1.
	Stretches int
	// Bent says that rods bent once may be tried besides straight ones. They have to be threaded in.
	Bent bool
	// BendRadius is to what radius the axis of a rod is bent, m. Default three diameters of the
	// rod: what a hand bends round a pipe; common practice, no source.
	BendRadius float64
	// Flexible says that flexible anodes that lie on spacers may be tried, too.
	Flexible bool
	// LeastBend is the least radius that the axis of a flexible anode takes, m. Default six of its
	// diameters; common practice, no source.
	LeastBend float64
	// Plastic is the wall of the sleeve, m. Default 2 mm, as of plastic conduit: common
	// practice, no source.
	Plastic float64
	// Play is the least gap between a rod or sleeve and steel, the rim of its opening or
	// another rod, m. Default 1 mm: common practice, no source.
	Play float64
	// Above is how far a rod stands out of its opening, m. Default 60 mm.
	Above float64
	// Shortest is the least length of a bare stretch and of a sleeved tip, m. Default 10 mm.
	Shortest float64
}

// withDefaults fills in what is left out, the rods thinnest first.
func (s Space) withDefaults() Space {
	def := func(value *float64, usual float64) {
		if *value == 0 {
			*value = usual
		}
	}
	def(&s.Plastic, 0.002)
	def(&s.Play, 0.001)
	def(&s.Above, 0.060)
	def(&s.Shortest, 0.010)
	s.Stretches = max(s.Stretches, 1)
	s.Radii = sortedUnique(s.Radii)
	return s
}

// check reports what makes a search impossible from the outset.
func (s *Space) check() error {
	if len(s.Radii) == 0 {
		return errors.New("no rod in the drawer: name at least one diameter")
	}
	for _, r := range s.Radii {
		if !(r > 0) || math.IsInf(r, 0) {
			return fmt.Errorf("a rod of %g mm diameter: give one above 0", 2000*r)
		}
	}
	if s.Steel == nil || s.Steel.Len() == 0 {
		return errors.New("no steel to keep clear of: the tank's surface has no facets")
	}
	if !(s.Clearance >= 0) || math.IsInf(s.Clearance, 0) {
		return fmt.Errorf("a clearance of %g mm: give 0 or more", 1000*s.Clearance)
	}
	if !(s.BendRadius >= 0) || math.IsInf(s.BendRadius, 0) {
		return fmt.Errorf("a bend to a radius of %g mm: give one above 0", 1000*s.BendRadius)
	}
	if !(s.LeastBend >= 0) || math.IsInf(s.LeastBend, 0) {
		return fmt.Errorf("a flexible anode that takes no less than %g mm: give a radius above 0", 1000*s.LeastBend)
	}
	if s.Stretches < 0 || s.Stretches > mostStretches {
		return fmt.Errorf("%d bare stretches on a rod: give 1 or %d", s.Stretches, mostStretches)
	}
	if len(s.Ways()) == 0 {
		return errors.New("no open opening above the liquid that faces up: a rod cannot be hung in")
	}
	return nil
}

// facesUp is the least cosine between plumb line and axis of an opening that a rod can be
// lowered into: 80 degrees.
const facesUp = 0.17

// Ways returns the openings, by number, that a rod can hang in: open, their middle not under the
// liquid, and facing up.
func (s *Space) Ways() []int {
	var ways []int
	for i := range s.Openings {
		o := &s.Openings[i]
		up := s.Surface.Normal.Dot(o.Axis.Unit())
		if o.Use == vessel.Open && up >= facesUp && s.Surface.Height(o.Centre) > -1e-6 {
			ways = append(ways, i)
		}
	}
	return ways
}

// sleeve returns the outside radius of the sleeve on a rod, m.
func (s *Space) sleeve(radius float64) float64 { return radius + s.Plastic }

// frame returns the directions of U and V in an opening's plane: U towards +x, or +y where
// the opening itself faces along x.
func frame(o *vessel.Opening) (u, v, axis geometry.Vec) {
	axis = o.Axis.Unit()
	u = geometry.V(1, 0, 0)
	if math.Abs(axis.X) > 0.9 {
		u = geometry.V(0, 1, 0)
	}
	u = u.AddScaled(axis, -u.Dot(axis)).Unit()
	return u, axis.Cross(u), axis
}

func sortedUnique(values []float64) []float64 {
	out := make([]float64, 0, len(values))
	for _, v := range values {
		k := len(out)
		for k > 0 && out[k-1] > v {
			k--
		}
		if k > 0 && out[k-1] == v {
			continue
		}
		out = append(out, 0)
		copy(out[k+1:], out[k:])
		out[k] = v
	}
	return out
}
