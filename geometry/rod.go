package geometry

import "sort"

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
}

// Straight returns the two-point path of a rod from tip to top.
func Straight(tip, top Vec) []Vec { return []Vec{tip, top} }

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
