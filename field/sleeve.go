package field

import (
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// plasticTube is a stretch of plastic as a solid that current goes round.
type plasticTube struct {
	a, b   geometry.Vec // ends of its axis, m
	radius float64      // m
	rod    int          // which rod's
}

// tubes returns the covered stretches of the rods, and their end caps' tips.
func (p *Problem) tubes() []plasticTube {
	var out []plasticTube
	for i := range p.Anodes {
		r := &p.Anodes[i].Rod
		radius := math.Max(r.Sleeve, r.Radius)
		from := 0.0
		add := func(to float64) {
			if to <= from+1e-9 {
				return
			}
			for _, leg := range r.Pieces(from, to) {
				out = append(out, plasticTube{leg[0], leg[1], radius, i})
			}
		}
		length := r.Length()
		for _, s := range geometry.MergeSpans(r.Bare, length) {
			add(s.From)
			from = s.To
		}
		add(length)
	}
	return out
}

// box returns where the links are that the tube may close, on a lattice of spacing h, m.
func (t *plasticTube) box(h float64) geometry.Box {
	return geometry.BoxOf(t.a, t.b).Grow(t.radius + h)
}

// holds reports whether x lies in the tube.
func (t *plasticTube) holds(x geometry.Vec) bool {
	d := t.b.Sub(t.a)
	s := x.Sub(t.a).Dot(d) / d.Dot(d)
	return s >= 0 && s <= 1 && x.Sub(t.a).AddScaled(d, -s).Norm() < t.radius
}

// apertureLines is how many points a side measure the open share of a link's face.
const apertureLines = 4

// aroundPlastic returns the liquid with the links through plastic closed by the share of
// their face that it takes. The cells stay; the caller's liquid is not changed.
func (p *Problem) aroundPlastic() *lattice.Liquid {
	tubes := p.tubes()
	if len(tubes) == 0 {
		return p.Liquid
	}
	q := *p.Liquid
	for axis := range q.Open {
		q.Open[axis] = slices.Clone(q.Open[axis])
	}
	for i := range tubes {
		t := &tubes[i]
		q.EachWithin(t.box(q.Lattice.H), func(n int32) {
			for axis := range 3 {
				if open := q.Open[axis][n]; open > 0 {
					q.Open[axis][n] = open * float32(t.passes(&q, n, axis))
				}
			}
		})
	}
	return &q
}

// passes returns the share of the face ahead of cell n along axis that lies outside t.
func (t *plasticTube) passes(q *lattice.Liquid, n int32, axis int) float64 {
	h := q.Lattice.H
	middle := q.Point(n)
	middle = middle.WithAxis(axis, middle.Axis(axis)+h/2)
	a, b := (axis+1)%3, (axis+2)%3
	open := 0
	for i := range apertureLines {
		for k := range apertureLines {
			x := middle.WithAxis(a, middle.Axis(a)+h*((float64(i)+0.5)/apertureLines-0.5))
			x = x.WithAxis(b, x.Axis(b)+h*((float64(k)+0.5)/apertureLines-0.5))
			if !t.holds(x) {
				open++
			}
		}
	}
	return float64(open) / (apertureLines * apertureLines)
}
