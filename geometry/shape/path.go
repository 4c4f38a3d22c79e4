package shape

import (
	"math"
	"slices"
)

// Bend turns a stack's axis, level, to the left or right. The axis runs straight up to
// At, then turns through Angle on a circle of the given Radius, then runs straight.
type Bend struct {
	At     float64 // where the turn starts, along the axis, m
	Angle  float64 // rad; above 0 to the left of the way the axis runs
	Radius float64 // of the axis, m
}

// Length returns the length of the axis in the bend, m.
func (b Bend) Length() float64 { return math.Abs(b.Angle) * b.Radius }

// path is the axis in its own plane: x the way it starts, y to the left. It is a chain
// of straight pieces and arcs; the first and the last have no end.
type path []leg

// leg is a piece of a path that starts at (x, y) with the given heading.
type leg struct {
	from, to  float64 // along the axis, m
	x, y      float64 // m
	heading   float64 // rad, anticlockwise from x
	curvature float64 // 1/m, above 0 to the left; 0 straight
}

// pathOf lays the bends, which are in order and do not overlap, along a line through
// the origin.
func pathOf(bends []Bend) path {
	next := leg{from: math.Inf(-1)}
	var out path
	add := func(to, curvature float64) {
		this := next
		this.to, this.curvature = to, curvature
		out = append(out, this)
		next.from = to
		next.x, next.y, next.heading = this.point(to)
	}
	for _, b := range bends {
		add(b.At, 0)
		if b.Length() > 0 {
			add(b.At+b.Length(), math.Copysign(1/b.Radius, b.Angle))
		}
	}
	add(math.Inf(1), 0)
	return out
}

// start is where the leg's own (x, y) stands along the axis, m.
func (l leg) start() float64 {
	if math.IsInf(l.from, -1) {
		return 0
	}
	return l.from
}

// point returns the place and heading of the axis at s.
func (l leg) point(s float64) (x, y, heading float64) {
	d := s - l.start()
	sin, cos := math.Sincos(l.heading)
	if l.curvature == 0 {
		return l.x + d*cos, l.y + d*sin, l.heading
	}
	heading = l.heading + d*l.curvature
	sin2, cos2 := math.Sincos(heading)
	return l.x + (sin2-sin)/l.curvature, l.y - (cos2-cos)/l.curvature, heading
}

// locate returns the place along the leg of the point (x, y) and how far it lies to
// the left of the axis; ok is false when the point is not beside this leg.
func (l leg) locate(x, y float64) (s, left float64, ok bool) {
	sin, cos := math.Sincos(l.heading)
	dx, dy := x-l.x, y-l.y
	along, left := dx*cos+dy*sin, -dx*sin+dy*cos
	if l.curvature == 0 {
		s = l.start() + along
		return s, left, s >= l.from && s <= l.to
	}
	// The centre lies 1/curvature to the left; the turn is counted from the leg's start.
	radius, sign := 1/math.Abs(l.curvature), math.Copysign(1, l.curvature)
	turn := math.Atan2(along, radius-sign*left)
	if turn < 0 {
		turn += 2 * math.Pi
	}
	s = l.from + turn*radius
	return s, sign * (radius - math.Hypot(along, radius-sign*left)), s <= l.to
}

// leg returns the piece of the path at s.
func (p path) leg(s float64) leg {
	for _, l := range p {
		if s <= l.to {
			return l
		}
	}
	return p[len(p)-1]
}

// at returns the place and heading of the axis at s.
func (p path) at(s float64) (x, y, heading float64) {
	l := p.leg(s)
	return l.point(s)
}

// sortedUnique sorts the places and drops those that repeat.
func sortedUnique(places []float64) []float64 {
	slices.Sort(places)
	return slices.Compact(places)
}
