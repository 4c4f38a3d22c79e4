package geometry

import "math"

// Gap is the least distance between a rod and something else.
//
// Conventions. The metal is solid: a round cylinder along each straight piece of the path,
// a ball at its corners, and at the tip either a hemisphere whose pole is the tip or a
// flat disc. Where bare metal goes on under plastic, the bare stretch ends in a flat cut.
// A hemisphere that is bare in part counts as bare, and a sleeve ends flat. Distance is positive while the two do
// not touch. Once they do, it is the distance from the rod's axis less its radius: between
// −radius, where the axis goes through the surface, and 0.
type Gap struct {
	Distance float64 // m; +Inf when there is nothing to measure from or to
	OnRod    Vec     // the nearest point of the rod's surface
	OnWall   Vec     // the nearest point of the wall, or of the second rod
	Face     int32   // of the mesh; -1 without one and between rods
}

// noGap is the gap to nothing.
func noGap() Gap { return Gap{Distance: math.Inf(1), Face: -1} }

// BareClearance returns the least distance from the rod's bare metal to the facets in t.
// With below, only metal under that plane counts, up to where the last line along the
// leaning rod's surface comes out of it, so that up to radius · tan(lean) of dry metal is
// included and the gap is never overstated. Pass the wetted facets in t to measure to wetted wall only.
func BareClearance(r *Rod, t *Tree, below *Plane) Gap {
	gap := noGap()
	for _, part := range r.solids(r.Bare, r.Radius, !r.Flat) {
		part.keepBelow(below)
		gap = part.gapTo(t, gap)
	}
	return gap
}

// OutsideClearance returns the least distance from all of the rod, metal and sleeve, to the facets in
// t, over the stretch of its axis given: Span{0, r.Length()} for all of it. A negative
// distance means that the rod cuts the surface.
func OutsideClearance(r *Rod, t *Tree, over Span) Gap {
	gap := noGap()
	for _, part := range r.outside(over) {
		gap = part.gapTo(t, gap)
	}
	return gap
}

// RodGap returns the least distance between the bare metal of two rods, with flat ends taken as if rounded over by
// the rod's radius: never more than the true gap. Negative when they cut each other.
func RodGap(a, b *Rod) Gap {
	gap := noGap()
	for _, p := range a.solids(a.Bare, a.Radius, !a.Flat) {
		for _, q := range b.solids(b.Bare, b.Radius, !b.Flat) {
			x, y := SegmentGap(p.from, p.to, q.from, q.to)
			axes := x.Dist(y)
			if d := axes - p.radius - q.radius; d < gap.Distance {
				toward := y.Sub(x).Unit()
				gap = Gap{d, x.AddScaled(toward, p.radius), y.AddScaled(toward, -q.radius), -1}
			}
		}
	}
	return gap
}

// outside returns the solids of metal and sleeve over a stretch of the axis.
func (r *Rod) outside(over Span) []solid {
	var parts []solid
	at := over.From
	add := func(to, radius float64, round bool) {
		if to = min(to, over.To); to > at {
			parts = append(parts, r.solids([]Span{{at, to}}, radius, round)...)
			at = to
		}
	}
	sleeve, round := r.Radius, !r.Flat
	if r.Sleeve > r.Radius {
		sleeve, round = r.Sleeve, false
	}
	for _, bare := range r.Bare {
		add(bare.From, sleeve, round)
		add(bare.To, r.Radius, !r.Flat)
	}
	add(over.To, sleeve, round)
	return parts
}

// solids returns the convex parts of the rod over the given stretches, all of one radius
// and with a round or flat tip.
func (r *Rod) solids(spans []Span, radius float64, round bool) []solid {
	var parts []solid
	for _, s := range spans {
		from := s.From
		if round && from < radius {
			from = radius
			ball, _ := r.At(radius)
			parts = append(parts, solid{from: ball, to: ball, radius: radius})
		}
		pieces := r.Pieces(from, s.To)
		for i, p := range pieces {
			parts = append(parts, solid{from: p[0], to: p[1], radius: radius, flat: true})
			if i > 0 {
				parts = append(parts, solid{from: p[0], to: p[0], radius: radius})
			}
		}
	}
	return parts
}

// AroundClearance returns the least distance from a rod's spacers, and from its guard up
// to s = to, to the facets in t: +Inf without any. Negative: they cut the surface.
func AroundClearance(r *Rod, t *Tree, to float64) Gap {
	gap := noGap()
	for _, disc := range r.Spacers {
		span := Span{max(0, disc.At-disc.Thick/2), disc.At + disc.Thick/2}
		for _, part := range r.solids([]Span{span}, disc.Radius, false) {
			gap = part.gapTo(t, gap)
		}
	}
	if r.Guard.Outside > 0 {
		for _, part := range r.solids([]Span{{0, to}}, r.Guard.Outside, false) {
			gap = part.gapTo(t, gap)
		}
	}
	return gap
}

// ClearanceWithin is BareClearance for those who care only about gaps below a limit, m: with
// none, Face is -1 and Distance the limit.
func ClearanceWithin(r *Rod, t *Tree, limit float64) Gap {
	gap := Gap{Distance: limit, Face: -1}
	for _, part := range r.solids(r.Bare, r.Radius, !r.Flat) {
		gap = part.gapTo(t, gap)
	}
	return gap
}
