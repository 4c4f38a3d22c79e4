package geometry

import (
	"fmt"
	"math"
	"sort"
)

// Span is a stretch along a rod's axis, in metres from its tip; From < To.
type Span struct{ From, To float64 }

// Length returns the length of the stretch, m.
func (s Span) Length() float64 { return s.To - s.From }

// Rod is an anode by its shape: a round metal rod along a path, bare on some
// stretches and under plastic on the rest. The path starts where the metal ends (the
// tip) and goes up to the clamp. A straight rod has two points.
type Rod struct {
	Name   string
	Path   []Vec   // m, tip first; at least two points
	Radius float64 // of the metal, m
	Flat   bool    // the end is cut flat; false: a hemisphere whose pole is the tip
	Bare   []Span  // m from the tip, sorted, not overlapping
	Sleeve float64 // outside radius of the plastic over the rest, m; 0: thin insulation

	Spacers []Spacer // in any order
	Guard   Guard    // zero: none
	Collar  Collar   // zero: none
}

// Spacer is a plastic disc about the rod that keeps it off the wall.
type Spacer struct {
	At     float64 // of its middle, m from the tip
	Radius float64 // m
	Thick  float64 // along the rod, m
}

// Guard is a perforated plastic tube all along the rod, centred on it. It keeps the metal
// off the wall and has to pass the opening. The zero value is none.
type Guard struct {
	Outside, Inside float64 // radii, m
	Open            float64 // share of its wall that is hole
	Hole            float64 // diameter of a hole, m
}

// Collar is a stop that rests on the rim from outside. The zero value is none.
type Collar struct {
	At     float64 // of its underside, m from the tip
	Radius float64 // m
}

// Straight returns the two-point path of a rod from tip to top.
func Straight(tip, top Vec) []Vec { return []Vec{tip, top} }

// bendStep is the most that a path turns at one of its corners along an arc, rad.
const bendStep = math.Pi / 24

// Bent returns the path of a rod that is bent once: straight from tip toward the corner, round
// an arc of the given radius (of the axis) that touches both legs, and straight on to top. An
// error says why there is no room for the arc, or that nothing is bent.
func Bent(tip, corner, top Vec, radius float64) ([]Vec, error) {
	in, out := corner.Sub(tip), top.Sub(corner)
	d, e := in.Unit(), out.Unit()
	turn := math.Atan2(d.Cross(e).Norm(), d.Dot(e))
	if turn < 1e-6 || turn > math.Pi-1e-3 {
		return nil, fmt.Errorf("a corner at %v turns the rod by %.2f degrees: give one beside the line from tip to top, or no bend", corner, turn*180/math.Pi)
	}
	cut := radius * math.Tan(turn/2)
	if shorter := math.Min(in.Norm(), out.Norm()); cut > shorter {
		return nil, fmt.Errorf("a bend of %.1f degrees at a radius of %.1f mm takes %.1f mm of either leg, the shorter has %.1f mm: bend it tighter or move the corner",
			turn*180/math.Pi, radius*1000, cut*1000, shorter*1000)
	}
	start := corner.AddScaled(d, -cut)
	inward := e.AddScaled(d, -e.Dot(d)).Unit()
	centre := start.AddScaled(inward, radius)
	path := []Vec{tip}
	n := max(1, int(math.Ceil(turn/bendStep)))
	for i := range n + 1 {
		sin, cos := math.Sincos(turn * float64(i) / float64(n))
		if p := centre.AddScaled(inward, -radius*cos).AddScaled(d, radius*sin); p.Dist(path[len(path)-1]) > 1e-9 {
			path = append(path, p)
		}
	}
	if top.Dist(path[len(path)-1]) > 1e-9 {
		path = append(path, top)
	}
	return path, nil
}

// Turning returns how far the path turns between its ends, rad.
func (r *Rod) Turning() float64 {
	last := len(r.Path) - 1
	a, b := r.Path[1].Sub(r.Path[0]), r.Path[last].Sub(r.Path[last-1])
	return math.Atan2(a.Cross(b).Norm(), a.Dot(b))
}

// IsStraight reports whether the path does not turn.
func (r *Rod) IsStraight() bool {
	first := r.Path[1].Sub(r.Path[0]).Unit()
	for i := 2; i < len(r.Path); i++ {
		if r.Path[i].Sub(r.Path[i-1]).Unit().Cross(first).Norm() > 1e-9 {
			return false
		}
	}
	return true
}

// Outside returns the outside radius of metal or sleeve at s metres from the tip, m.
func (r *Rod) Outside(s float64) float64 {
	for _, bare := range r.Bare {
		if s >= bare.From && s <= bare.To {
			return r.Radius
		}
	}
	return math.Max(r.Radius, r.Sleeve)
}

// Length returns the length of the path, m.
func (r *Rod) Length() float64 {
	sum := 0.0
	for i := 1; i < len(r.Path); i++ {
		sum += r.Path[i].Dist(r.Path[i-1])
	}
	return sum
}

// At returns the point on the axis at s metres from the tip and the unit direction of
// the path there, from tip to top. s outside the rod continues its end stretch.
func (r *Rod) At(s float64) (point, direction Vec) {
	last := len(r.Path) - 1
	for i := 1; ; i++ {
		a, b := r.Path[i-1], r.Path[i]
		leg := b.Dist(a)
		if s <= leg || i == last {
			d := b.Sub(a).Unit()
			return a.AddScaled(d, s), d
		}
		s -= leg
	}
}

// Pieces cuts the axis between s = from and s = to at the path's own corners and
// returns the straight pieces, each as its end points, tip side first.
func (r *Rod) Pieces(from, to float64) [][2]Vec {
	var pieces [][2]Vec
	start := 0.0
	for i := 1; i < len(r.Path); i++ {
		leg := r.Path[i].Dist(r.Path[i-1])
		a, b := max(from, start), min(to, start+leg)
		if b > a {
			d := r.Path[i].Sub(r.Path[i-1]).Unit()
			pieces = append(pieces, [2]Vec{r.Path[i-1].AddScaled(d, a-start), r.Path[i-1].AddScaled(d, b-start)})
		}
		start += leg
	}
	return pieces
}

// MergeSpans sorts spans, joins those that touch and clips them to [0, length].
func MergeSpans(spans []Span, length float64) []Span {
	sorted := append([]Span(nil), spans...)
	sort.Slice(sorted, func(i, k int) bool { return sorted[i].From < sorted[k].From })
	var out []Span
	for _, s := range sorted {
		s = Span{max(s.From, 0), min(s.To, length)}
		if s.To <= s.From {
			continue
		}
		if n := len(out); n > 0 && s.From <= out[n-1].To {
			out[n-1].To = max(out[n-1].To, s.To)
			continue
		}
		out = append(out, s)
	}
	return out
}
