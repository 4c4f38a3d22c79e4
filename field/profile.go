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

// profile cuts the surface of a rod in the liquid into bands, as if it were straight. Only the
// bare stretches and the plastic next to them are kept. Distances run along the rod from its tip.
type profile struct {
	radius  float64
	sleeve  float64 // outside radius of the plastic; the metal's own where it is thin
	flat    bool
	low     float64 // where the rod enters the liquid; 0: its tip is in it
	length  float64 // where it leaves the liquid or ends
	bare    []geometry.Span
	ribbons []ribbon
}

// ribbon is a band before it is laid on the rod's legs.
type ribbon struct {
	s0, s1 float64 // m from the tip
	r0, r1 float64 // radii there, m
	metal  bool
}

// leg is a straight part of a rod.
type leg struct {
	at, axis geometry.Vec // its lower end and its direction, of length 1
	start    float64      // of it, m from the tip
	length   float64      // m
}

// bandsOf returns the bands of the rod on the inner side of the mirrors, or nil when no
// bare metal is there.
func bandsOf(r *geometry.Rod, number int, mirrors []geometry.Plane) []band {
	legs := legsOf(r)
	var out []band
	for _, run := range wetRuns(legs, mirrors) {
		p := profile{radius: r.Radius, sleeve: math.Max(r.Sleeve, r.Radius), flat: r.Flat, low: run.From, length: run.To}
		for _, s := range p.cut(r.Bare) {
			out = append(out, s.lay(legs, number)...)
		}
	}
	return out
}

func legsOf(r *geometry.Rod) []leg {
	var legs []leg
	start := 0.0
	for i := 1; i < len(r.Path); i++ {
		length := r.Path[i].Dist(r.Path[i-1])
		if length == 0 {
			continue
		}
		legs = append(legs, leg{r.Path[i-1], r.Path[i].Sub(r.Path[i-1]).Unit(), start, length})
		start += length
	}
	return legs
}

// wetRuns returns the stretches of a rod on the inner side of the mirrors, over its corners.
func wetRuns(legs []leg, mirrors []geometry.Plane) []geometry.Span {
	var runs []geometry.Span
	goesOn := false // the last run reaches the end of its leg
	for _, l := range legs {
		low, high, wet := l.inside(mirrors)
		switch {
		case !wet:
			goesOn = false
			continue
		case goesOn && low == 0:
			runs[len(runs)-1].To = l.start + high
		default:
			runs = append(runs, geometry.Span{From: l.start + low, To: l.start + high})
		}
		goesOn = high == l.length
	}
	return runs
}

// inside returns the stretch of the leg on the inner side of the mirrors, m from its lower end.
func (l *leg) inside(mirrors []geometry.Plane) (low, high float64, any bool) {
	high = l.length
	for _, m := range mirrors {
		switch rise, height := m.Normal.Dot(l.axis), m.Height(l.at); {
		case rise > 0:
			high = math.Min(high, -height/rise)
		case rise < 0:
			low = math.Max(low, height/-rise)
		case height > 0:
			return 0, 0, false
		}
	}
	return low, high, high > low
}

// sliver is how much of a ribbon, in radii, is not cut off at a corner but goes with the rest.
const sliver = 0.1

// lay returns the ribbon as bands, cut at the corners of the rod.
func (s ribbon) lay(legs []leg, rod int) []band {
	var out []band
	from, r := s.s0, s.r0
	for i, l := range legs {
		end, slack := l.start+l.length, sliver*math.Max(s.r0, s.r1)
		last := i == len(legs)-1
		if !last && from > end-slack {
			continue
		}
		to, r1 := s.s1, s.r1
		if !last && s.s1 > end+slack {
			to = end
			r1 = s.r0 + (s.r1-s.r0)*(end-s.s0)/(s.s1-s.s0)
		}
		u, v := l.axis.Perpendicular()
		out = append(out, band{at: l.at, start: l.start, axis: l.axis, across: [2]geometry.Vec{u, v},
			s0: from - l.start, s1: to - l.start, r0: r, r1: r1, metal: s.metal, rod: rod})
		if to == s.s1 {
			break
		}
		from, r = to, r1
	}
	return out
}

// cut returns the ribbons of what is bare and of the plastic beside it.
func (p *profile) cut(bare []geometry.Span) []ribbon {
	for _, s := range geometry.MergeSpans(bare, p.length) {
		if s = (geometry.Span{From: math.Max(s.From, p.low), To: s.To}); s.To > s.From {
			p.bare = append(p.bare, s)
		}
	}
	if len(p.bare) == 0 {
		return nil
	}
	if p.first() {
		p.end()
	}
	for i, s := range p.bare {
		p.side(math.Max(s.From, p.begin()), s.To, p.radius, true)
		next := p.length
		if i+1 < len(p.bare) {
			next = p.bare[i+1].From
		}
		p.plastic(s.To, next)
	}
	return p.ribbons
}

// first reports whether the run has the rod's own end in the liquid.
func (p *profile) first() bool { return p.low == 0 }

// begin returns where the straight side begins: past the hemisphere of a round end.
func (p *profile) begin() float64 {
	if p.flat || !p.first() {
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
	if capped && first > p.begin() {
		p.side(p.begin(), first, p.sleeve, false)
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

// side adds bands along the side, fine where it ends, not where it only leaves the liquid.
func (p *profile) side(from, to, r float64, metal bool) {
	lower, upper := p.first() || from > p.low, to < p.length
	switch {
	case !lower && !upper:
		p.plain(from, to, r, metal)
	case !upper:
		p.half(from, to, r, metal)
	case !lower:
		p.half(to, from, r, metal)
	default:
		middle := (from + to) / 2
		p.half(from, middle, r, metal)
		p.half(to, middle, r, metal)
	}
}

// plain adds bands of one length.
func (p *profile) plain(from, to, r float64, metal bool) {
	n := math.Ceil((to - from) / math.Max(longBand*r, plainBand))
	for i := range int(n) {
		p.add(from+(to-from)*float64(i)/n, from+(to-from)*float64(i+1)/n, r, r, metal)
	}
}

// half adds bands along the straight side from an edge, fine there, to where they end.
func (p *profile) half(edge, end, r float64, metal bool) {
	total := math.Abs(end - edge)
	if total < 1e-9 {
		return
	}
	var steps []float64
	sum := 0.0
	for step := edgeBand * r; sum < total; step = math.Min(step*bandRatio, math.Max(longBand*r, plainBand)) {
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
	p.ribbons = append(p.ribbons, ribbon{s0, s1, r0, r1, metal})
}
