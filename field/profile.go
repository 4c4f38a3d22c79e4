package field

import (
	"math"

	"evenwall/geometry"
)

// Rod bands: lengths in radii, and how they grow away from an edge.
const (
	edgeBand     = 0.2  // of the radius: the band next to an end or to the plastic's edge
	bandRatio    = 1.4  // of a band to its neighbour nearer the edge
	longBand     = 1.5  // of the radius: no longer, unless shorter than plainBand
	plainBand    = 5e-3 // m
	plasticReach = 4.0  // radii of plastic beyond a bare stretch that shape its current
)

// profile cuts the surface of a straight rod in the liquid into bands. Only the bare
// stretches and the plastic next to them are kept.
type profile struct {
	rod    int
	at     geometry.Vec // where the axis's s = 0 stands: the tip
	axis   geometry.Vec
	radius float64
	sleeve float64 // outside radius of the plastic; the metal's own where it is thin
	flat   bool
	low    float64 // where the axis enters the liquid, from the tip; 0: the tip is in it
	length float64 // where it leaves the liquid
	bare   []geometry.Span
	bands  []band
}

// bandsOf returns the bands of the rod on the inner side of the mirrors, or nil when no
// bare metal is there.
func bandsOf(r *geometry.Rod, number int, mirrors []geometry.Plane) []band {
	tip := r.Path[0]
	_, axis := r.At(0)
	p := profile{rod: number, at: tip, axis: axis, radius: r.Radius, sleeve: math.Max(r.Sleeve, r.Radius), flat: r.Flat}
	p.low, p.length = 0, r.Length()
	for _, m := range mirrors {
		switch rise := m.Normal.Dot(axis); {
		case rise > 0:
			p.length = math.Min(p.length, -m.Height(tip)/rise)
		case rise < 0:
			p.low = math.Max(p.low, m.Height(tip)/-rise)
		}
	}
	for _, s := range geometry.MergeSpans(r.Bare, p.length) {
		if s.From = math.Max(s.From, p.low); s.To > s.From {
			p.bare = append(p.bare, s)
		}
	}
	if len(p.bare) == 0 {
		return nil
	}
	if p.low == 0 {
		p.end()
	}
	for i, s := range p.bare {
		p.side(math.Max(s.From, p.start()), s.To, p.radius, true)
		next := p.length
		if i+1 < len(p.bare) {
			next = p.bare[i+1].From
		}
		p.plastic(s.To, next)
	}
	return p.bands
}

// start returns where the straight side begins: past the hemisphere of a round end.
func (p *profile) start() float64 {
	if p.flat || p.low > 0 {
		return p.low
	}
	return p.radius
}

// end adds the bands of the rod's end, bare or under its cap, and of the plastic between
// the end and the first bare stretch.
func (p *profile) end() {
	first := p.bare[0].From
	capped := first > 0
	r := p.radius
	if capped {
		r = p.sleeve
	}
	const steps = 6
	if !p.flat {
		// chords lie inside the circle: their mean distance from the centre is made its radius
		r /= 1 - (1-math.Cos(math.Pi/4/steps))*2/3
	}
	for i := range steps {
		a0, a1 := math.Pi/2*float64(i)/steps, math.Pi/2*float64(i+1)/steps
		if p.flat {
			p.add(0, 0, r*math.Sin(a0), r*math.Sin(a1), !capped)
			continue
		}
		p.add(p.radius-r*math.Cos(a0), p.radius-r*math.Cos(a1), r*math.Sin(a0), r*math.Sin(a1), !capped)
	}
	if capped && first > p.start() {
		p.side(p.start(), first, p.sleeve, false)
		p.shoulder(first, false)
	}
}

// shoulder adds the plastic's end face at s, looking towards the tip or to the top.
func (p *profile) shoulder(s float64, towardsTip bool) {
	if p.sleeve <= p.radius*1.0001 {
		return
	}
	const steps = 3
	for i := range steps {
		r0 := p.radius + (p.sleeve-p.radius)*float64(i)/steps
		r1 := p.radius + (p.sleeve-p.radius)*float64(i+1)/steps
		if towardsTip {
			p.add(s, s, r0, r1, false)
		} else {
			p.add(s, s, r1, r0, false)
		}
	}
}

// plastic adds the plastic from s = from up to the next bare stretch or the surface.
func (p *profile) plastic(from, to float64) {
	if to <= from+1e-9 {
		return
	}
	p.shoulder(from, true)
	reach := plasticReach * p.sleeve
	if to < p.length-1e-9 { // a further bare stretch follows
		if to-from > 2*reach {
			p.half(from, from+reach, p.sleeve, false)
			p.half(to, to-reach, p.sleeve, false)
		} else {
			p.side(from, to, p.sleeve, false)
		}
		p.shoulder(to, false)
		return
	}
	p.half(from, math.Min(to, from+reach), p.sleeve, false)
}

// side adds bands along the straight side, fine where it ends, not where it only leaves
// the liquid.
func (p *profile) side(from, to, r float64, metal bool) {
	switch {
	case p.low > 0 && from <= p.low && to >= p.length:
		p.half(to, from, r, metal)
	case to >= p.length:
		p.half(from, to, r, metal)
	case p.low > 0 && from <= p.low:
		p.half(to, from, r, metal)
	default:
		middle := (from + to) / 2
		p.half(from, middle, r, metal)
		p.half(to, middle, r, metal)
	}
}

// half adds bands along the straight side from an edge, fine there, to where they end.
func (p *profile) half(edge, end, r float64, metal bool) {
	total := math.Abs(end - edge)
	if total < 1e-9 {
		return
	}
	step := edgeBand * r
	if p.low > 0 && edge >= p.length { // both ends leave the liquid
		step = math.Max(longBand*r, plainBand)
	}
	var steps []float64
	sum := 0.0
	for ; sum < total; step = math.Min(step*bandRatio, math.Max(longBand*r, plainBand)) {
		steps = append(steps, step)
		sum += step
	}
	scale, s := (end-edge)/sum, edge
	for _, step := range steps {
		next := s + step*scale
		p.add(math.Min(s, next), math.Max(s, next), r, r, metal)
		s = next
	}
}

func (p *profile) add(s0, s1, r0, r1 float64, metal bool) {
	u, v := p.axis.Perpendicular()
	p.bands = append(p.bands, band{at: p.at, axis: p.axis, across: [2]geometry.Vec{u, v}, s0: s0, s1: s1, r0: r0, r1: r1, metal: metal, rod: p.rod})
}
