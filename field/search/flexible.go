package search

import (
	"math"

	"evenwall/geometry"
)

// A flexible anode keeps no course of its own. What gives it one is the floor: it hangs plumb from
// its place in the opening, turns above the floor, and its leg lies along it on spacers.

// How a flexible anode lies. All of it is common practice, no source.
const (
	lying         = math.Pi / 6 // steepest leg that stays where it is put, from level
	spacersApart  = 0.080       // m, at most: what lies between two hardly sags
	spacerThick   = 0.003       // m
	spacerInset   = 0.010       // of the first one from the tip, m
	usualFlexible = 6           // diameters: the least radius of the axis, where none is given
)

// leastBendOf returns the radius round which a flexible anode turns, m: a little more than the
// least it takes, since its course is written down as points.
func (s *Space) leastBendOf(radius float64) float64 {
	return toStepUp(1.05 * LeastBendOf(s.LeastBend, radius))
}

// LeastBendOf returns the least radius that a flexible anode of the given radius takes, m, where that
// given is 0: the usual one.
func LeastBendOf(given, radius float64) float64 {
	if given > 0 {
		return given
	}
	return 2 * usualFlexible * radius
}

// rest returns the outside radius of the spacers on a flexible anode, m: they keep its metal the
// clearance away from what they lie on, the tip that stands out beyond them too when the hand leans
// it. Their diameter is a whole millimetre.
func (s *Space) rest(radius float64) float64 {
	return toStepUp(2*(s.Clearance+radius+2*spacerInset*math.Tan(s.Off.Tilt))) / 2
}

// SpacerDiameter returns how wide the spacers on a flexible anode of the given radius are, m.
func (s *Space) SpacerDiameter(radius float64) float64 { return 2 * s.rest(radius) }

// spacers returns the discs on the leg of a flexible anode: one at either end of its straight
// part and others between.
func (s *Space) spacers(p Place) []geometry.Spacer {
	first, last := spacerInset, p.Tip.Dist(p.Corner)-p.Bend*math.Tan(p.turn(s.passes(p))/2)-spacerThick
	n := max(1, math.Ceil((last-first)/spacersApart))
	out := make([]geometry.Spacer, 0, int(n)+1)
	for k := range int(n) + 1 {
		out = append(out, geometry.Spacer{At: toStep(first+(last-first)*float64(k)/n, 1000), Radius: s.rest(p.Radius), Thick: spacerThick})
	}
	return out
}

// legEnds returns how far from the tip the straight leg of a flexible anode goes, m.
func (f *fitting) legEnds() float64 {
	if n := len(f.rod.Spacers); n > 0 {
		return f.rod.Spacers[n-1].At
	}
	return 0
}

// layDown sets corner and tip of a flexible anode: where its spacers come to lie.
func (f *fitting) layDown() *Misfit {
	p, up := &f.place, f.Surface.Normal
	rest := f.rest(p.Radius) + f.Play
	through := f.passes(*p)
	level := through.AddScaled(up, rest-f.drop(through)) // where the axis would be over the floor under the opening
	far := p.Tip.AddScaled(up, level.Sub(p.Tip).Dot(up))
	length := far.Dist(level)
	if length < p.Bend+f.Shortest {
		return &Misfit{NotBent, p.Bend + f.Shortest - length}
	}
	reach := min(math.Tan(lying)*length, -f.Surface.Height(level))
	tip, lacking := f.around(far, rest, reach)
	if lacking > 0 {
		return &Misfit{NothingBare, lacking}
	}
	end, lacking := f.around(level.Lerp(far, p.Bend/length), rest, reach) // of the straight leg, where the bend begins
	if lacking > 0 {
		return &Misfit{NothingBare, lacking}
	}
	rise := end.Sub(tip).Dot(up) / (length - p.Bend)
	p.Corner = level.AddScaled(up, end.Sub(level).Dot(up)+rise*p.Bend)
	p.Tip = inMillimetres(tip)
	leg := p.Tip.Sub(p.Corner)
	if rise := math.Abs(leg.Dot(up)); rise > leg.Norm()*math.Sin(lying)+1e-3 {
		return &Misfit{Slides, rise - leg.Norm()*math.Sin(lying)}
	}
	// what the hand is off along the anode moves the tip
	ahead := p.Tip.AddScaled(leg.Unit(), f.Off.Depth)
	if _, _, d := f.Steel.ClosestWithin(ahead, rest); f.Off.Depth > 0 && d < f.Clearance+p.Radius {
		return &Misfit{NothingBare, f.Clearance + p.Radius - d}
	}
	return nil
}

// drop returns how far it is plumb down from a point to steel, m.
func (f *fitting) drop(from geometry.Vec) float64 {
	least := f.Steel.Bounds().Size().Norm()
	for _, c := range f.Steel.Crossings(from, f.Surface.Normal.Scale(-1), nil) {
		if c.At > layStep {
			least = min(least, c.At)
		}
	}
	return least
}

// layStep is the least step in which a place to lie is looked for, m.
const layStep = 5e-4

// lowest returns the lowest point plumb under another that is at least rest from steel, of the first
// stretch of such, m, or what the roomiest lacks.
func (f *fitting) lowest(from geometry.Vec, rest float64) (at geometry.Vec, lacking float64) {
	down := f.Surface.Normal.Scale(-1)
	most, found := math.Inf(-1), false
	for s := 0.0; s < f.Steel.Bounds().Size().Norm(); {
		p := from.AddScaled(down, s)
		_, _, d := f.Steel.ClosestWithin(p, rest+0.1)
		switch {
		case d >= rest:
			at, found = p, true
		case found:
			return at, 0
		}
		most = max(most, d)
		s += max(math.Abs(d-rest), layStep)
	}
	if found {
		return at, 0
	}
	return at, rest - most
}

// around returns the lowest point at least rest from steel plumb above or below one, no farther than
// reach, m, or what the roomiest lacks.
func (f *fitting) around(from geometry.Vec, rest, reach float64) (at geometry.Vec, lacking float64) {
	up := f.Surface.Normal
	_, _, d := f.Steel.ClosestWithin(from, rest+0.1)
	most := d
	for s := 0.0; s <= reach; {
		p := from.AddScaled(up, s)
		if d >= rest { // there is room: sink to where it ends
			if s == 0 {
				p, _ = f.lowest(from, rest)
			}
			return p, 0
		}
		s += max(rest-d, layStep)
		_, _, d = f.Steel.ClosestWithin(from.AddScaled(up, s), rest+0.1)
		most = max(most, d)
	}
	return at, max(rest-most, layStep)
}

// spreadFlexible returns up to n flexible anodes that fit, drawn evenly by where they hang in their
// opening and where the tip lies; none where the space has no such.
func (r *run) spreadFlexible(seed uint64, n int) []*record {
	if !r.space.Flexible {
		return nil
	}
	return r.spread(newSpray(seed), n, nil, func(_ int, p Place, x []float64) Place {
		p.Radius = r.space.Radii[int(x[0]*float64(len(r.space.Radii)))]
		p.Flexible, p.Bend = true, r.space.leastBendOf(p.Radius)
		radius := r.space.Openings[p.Opening].Diameter / 2 // its spacers have to pass
		room := max(0, radius-r.space.rest(p.Radius)-r.space.Play) / radius
		p.U, p.V = room*p.U, room*p.V
		p.Corner = p.Tip // laid down when it is fitted
		p.Bare = someBare(x[1], x[2], p.Tip.Dist(r.space.passes(p)))
		return p
	})
}
