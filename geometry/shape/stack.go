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

// validateBetween looks for tunnels that leave the outline between two sections that
// are each in order.
func (s Stack) validateBetween() error {
	for i := 1; i < len(s.Sections); i++ {
		a, b := s.Sections[i-1].outline(), s.Sections[i].outline()
		for k := 1; k < 8; k++ {
			if o := a.lerp(b, float64(k)/8); o.tunnel > 0 && o.crest-o.arch < o.foot()-1e-12 {
				return fmt.Errorf("between sections %d and %d the notch does not reach over the rounded floor: add a section there", i, i+1)
			}
		}
	}
	return nil
}

func (s Stack) validateBends() error {
	end := math.Inf(-1)
	for i, b := range s.Bends {
		if err := firstError(needPlace(fmt.Sprintf("bend %d: at", i+1), b.At), needSize(fmt.Sprintf("bend %d: radius", i+1), b.Radius)); err != nil {
			return err
		}
		if !(math.Abs(b.Angle) < math.Pi) {
			return fmt.Errorf("bend %d turns by %.4g degrees: give less than 180 either way", i+1, b.Angle*180/math.Pi)
		}
		if b.At < end {
			return fmt.Errorf("bend %d starts at %s, before the bend in front of it has ended at %s: move it on", i+1, mm(b.At), mm(end))
		}
		end = b.At + b.Length()
		if reach := s.reach(math.Copysign(1, b.Angle), b.At, end); reach >= b.Radius {
			return fmt.Errorf("bend %d has radius %s, the tank reaches %s to its inner side: give a larger radius", i+1, mm(b.Radius), mm(reach))
		}
	}
	return nil
}

// reach returns how far the tank reaches from the axis to the left (sign 1) or right
// (sign -1) between from and to, m.
func (s Stack) reach(sign, from, to float64) float64 {
	most := 0.0
	for _, at := range append(s.stations(from, to), from, to) {
		if o, ok := s.at(at); ok {
			most = math.Max(most, o.width/2+sign*o.side)
		}
	}
	return most
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

// rings returns the outlines along the axis as points of the tank frame.
func (s Stack) rings(edge float64) [][]geometry.Vec {
	var d detail
	for _, sec := range s.Sections {
		d = d.finest(sec.outline(), edge)
	}
	axis := pathOf(s.Bends)
	var out [][]geometry.Vec
	for _, place := range s.places(edge) {
		o, _ := s.at(place)
		x, y, heading := axis.at(place)
		sin, cos := math.Sincos(heading)
		points := o.points(d)
		ring := make([]geometry.Vec, len(points))
		for i, p := range points {
			ring[i] = s.Axis.place(x-p.X*sin, y+p.X*cos, p.Y)
		}
		out = append(out, ring)
	}
	return out
}

// places returns where rings are laid: at every section and at the ends of bends, and
// between them so that facets stay near edge long, and the sides move by no more, on
// bends; four times that where the axis is straight.
func (s Stack) places(edge float64) []float64 {
	marks := s.marks()
	axis := pathOf(s.Bends)
	out := marks[:1:1]
	for i := 1; i < len(marks); i++ {
		from, to := marks[i-1], marks[i]
		n := steps(to-from, 4*edge)
		if l := axis.leg((from + to) / 2); l.curvature != 0 {
			n = max(s.bendSteps(l.curvature, from, to, edge), steps(s.change(from, to), edge))
		}
		for k := 1; k < n; k++ {
			out = append(out, from+(to-from)*float64(k)/float64(n))
		}
		out = append(out, to)
	}
	return out
}

// bendSteps returns into how many steps the outer side of a bend is cut.
func (s Stack) bendSteps(curvature, from, to, edge float64) int {
	bend := math.Abs(curvature)
	return arcSteps(1/bend+s.reach(-math.Copysign(1, curvature), from, to), (to-from)*bend, edge)
}

// change returns how much the outline's sides move between two places, m. In a bend a
// side that moves is no plane.
func (s Stack) change(from, to float64) float64 {
	a, _ := s.at(from)
	b, _ := s.at(to)
	return math.Abs(a.side-b.side) + math.Abs(a.bottom-b.bottom) + math.Abs(a.width-b.width) + math.Abs(a.height-b.height)
}

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
			o, _ := s.at(from + (to-from)*node.t)
			if o.foot() > 0 && o.tunnel > 0 {
				return 0, false
			}
			sum += node.weight / 6 * (to - from) * o.area() * (1 - curvature*o.side)
		}
	}
	return sum, true
}
