package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
)

// Stack is a tank given by cross-sections along an axis, each number of a section
// running linearly to the next; the end sections are flat walls.
//
// Lying, the axis runs along x through y = 0, z = 0 (a section's Bottom is its height
// over z = 0), width lies along y. Upright, the axis runs up along z, width lies along
// x (Side shifts to the front) and height along y, its middle Bottom to the left of
// the axis; a notch is cut from the right. Bends turn a lying axis in plan, an upright one to the
// front (angle above 0).
type Stack struct {
	Axis     Axis
	Sections []Section // in the order of At, which rises; two or more
	Bends    []Bend    // in the order of At, not overlapping
}

// Validate implements Shape.
func (s Stack) Validate() error {
	if len(s.Sections) < 2 {
		return fmt.Errorf("stack has %d sections: give at least two", len(s.Sections))
	}
	for i, sec := range s.Sections {
		if err := sec.validate(fmt.Sprintf("section %d", i+1)); err != nil {
			return err
		}
		if i > 0 && !(sec.At > s.Sections[i-1].At) {
			return fmt.Errorf("section %d stands at %s, not after section %d at %s: put them in order, each at its own place",
				i+1, mm(sec.At), i, mm(s.Sections[i-1].At))
		}
	}
	return firstError(s.validateBetween(), s.validateBends())
}

// stations returns the places of sections strictly between from and to.
func (s Stack) stations(from, to float64) []float64 {
	var out []float64
	for _, sec := range s.Sections {
		if sec.At > from && sec.At < to {
			out = append(out, sec.At)
		}
	}
	return out
}

// span returns where the axis starts and ends, m.
func (s Stack) span() (from, to float64) {
	return s.Sections[0].At, s.Sections[len(s.Sections)-1].At
}

// at returns the outline at a place along the axis, and whether the tank is there.
func (s Stack) at(place float64) (outline, bool) {
	if from, to := s.span(); !(place >= from && place <= to) {
		return outline{}, false
	}
	i := 1
	for s.Sections[i].At < place {
		i++
	}
	a, b := s.Sections[i-1], s.Sections[i]
	return s.centred(a).lerp(s.centred(b), (place-a.At)/(b.At-a.At)), true
}

// centred returns a section's outline, moved to stand on the axis when upright.
func (s Stack) centred(sec Section) outline {
	o := sec.outline()
	if s.Axis == Upright {
		o.bottom -= o.height / 2
	}
	return o
}

// Contains implements Shape.
func (s Stack) Contains(p geometry.Vec) bool {
	x, y, up := s.Axis.local(p)
	for _, l := range pathOf(s.Bends) {
		if place, left, ok := l.locate(x, y); ok {
			if o, inside := s.at(place); inside && o.contains(left, up) {
				return true
			}
		}
	}
	return false
}

// Bounds implements Shape. Round a bend it may be too wide by the height of an arc over
// its chord, some hundredths of a millimetre.
func (s Stack) Bounds() geometry.Box {
	b := geometry.EmptyBox()
	for _, r := range s.rings(DefaultEdge) {
		b = b.Union(geometry.BoxOf(r...))
	}
	spare := 0.0
	for _, bend := range s.Bends {
		spare = math.Max(spare, DefaultEdge*DefaultEdge/(8*bend.Radius))
	}
	return b.Grow(spare)
}

// Mesh implements Shape.
func (s Stack) Mesh(edge float64) geometry.Mesh { return tube(s.rings(edge)) }

// marks returns the places at which something changes along the axis, in order.
func (s Stack) marks() []float64 {
	from, to := s.span()
	all := append([]float64{from, to}, s.stations(from, to)...)
	for _, b := range s.Bends {
		for _, at := range []float64{b.At, b.At + b.Length()} {
			if at > from && at < to {
				all = append(all, at)
			}
		}
	}
	return sortedUnique(all)
}

// Volume implements Shape: Simpson's rule between the places where something changes,
// which is exact there because an outline's area is a square law of the place, and in a
// bend its middle's way is 1 − side/radius times the axis's (Pappus). There is no
// formula where a tunnel cuts into the rounding of the floor.
func (s Stack) Volume() (float64, bool) {
	marks, axis, sum := s.marks(), pathOf(s.Bends), 0.0
	for i := 1; i < len(marks); i++ {
		from, to := marks[i-1], marks[i]
		curvature := axis.leg((from + to) / 2).curvature
		for _, node := range []struct{ t, weight float64 }{{0, 1}, {0.5, 4}, {1, 1}} {
			o, _ := s.at(math.Min(to, from+(to-from)*node.t)) // rounding may lead past the end
			if o.foot() > 0 && o.tunnel > 0 {
				return 0, false
			}
			sum += node.weight / 6 * (to - from) * o.area() * (1 - curvature*o.side)
		}
	}
	return sum, true
}
