package search

import (
	"math"

	"evenwall/geometry"
)

// naiveGap is how far the obvious rod's tip stays above the first steel it meets, m.
const naiveGap = 0.030

// Naive returns the rod that anyone would hang without a computation: plumb down the
// middle of the widest opening that a rod can hang in, to 30 mm above the first steel it
// meets, bare to the liquid's surface, of the thickest in the drawer that passes the
// opening in a sleeve, or the thinnest when none does. It is not held against the
// clearance. There is none when no opening faces up or nothing but 30 mm is below it.
func (s *Space) Naive() (geometry.Rod, bool) {
	full := s.withDefaults()
	opening, ok := full.widest()
	if !ok || len(full.Radii) == 0 {
		return geometry.Rod{}, false
	}
	o := &full.Openings[opening]
	down := full.Surface.Normal.Scale(-1)
	drop := full.firstSteel(o.Centre, down)
	depth := drop - naiveGap
	p := Place{Opening: opening, Tip: o.Centre.AddScaled(down, depth), Radius: full.Radii[0]}
	wet := depth - full.Surface.Height(o.Centre)
	if math.IsInf(drop, 1) || wet < full.Shortest {
		return geometry.Rod{}, false
	}
	for _, radius := range full.Radii {
		if full.sleeve(radius)+full.Play <= o.Diameter/2*full.Surface.Normal.Dot(o.Axis.Unit()) {
			p.Radius = radius
		}
	}
	p.Bare = geometry.Span{To: wet}
	return full.Rod(p), true
}

// widest returns the widest opening that a rod can hang in.
func (s *Space) widest() (int, bool) {
	best, ok := 0, false
	for _, i := range s.Ways() {
		if !ok || s.Openings[i].Diameter > s.Openings[best].Diameter {
			best, ok = i, true
		}
	}
	return best, ok
}

// firstSteel returns the distance from p along a direction to the first facet, m; +Inf
// when there is none.
func (s *Space) firstSteel(p, direction geometry.Vec) float64 {
	first := math.Inf(1)
	for _, c := range s.Steel.Crossings(p, direction, nil) {
		first = min(first, c.At)
	}
	return first
}
