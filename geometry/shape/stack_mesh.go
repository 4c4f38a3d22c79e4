package shape

import (
	"math"

	"evenwall/geometry"
)

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
