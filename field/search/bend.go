package search

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/passage"
)

// How far a rod is bent, rad: less is no bend that a hand can measure, and by more it is a
// hook that catches on the rim.
const (
	leastTurn = 10 * math.Pi / 180
	mostTurn  = 120 * math.Pi / 180
)

// bendOf returns the radius to which a rod is bent, m.
func (s *Space) bendOf(radius float64) float64 {
	if s.BendRadius > 0 {
		return s.BendRadius
	}
	return toStep(6*radius, 1e6)
}

// foot returns the point that the shank, the straight part in the opening, leads down to.
func (p Place) foot() geometry.Vec {
	if p.Bend > 0 {
		return p.Corner
	}
	return p.Tip
}

// path returns the rod's path up to a point of its shank; with a sharp corner where its legs are
// too short for the bend.
func (p Place) path(top geometry.Vec) []geometry.Vec {
	if p.Bend == 0 {
		return geometry.Straight(p.Tip, top)
	}
	path, err := geometry.Bent(p.Tip, p.Corner, top, p.Bend)
	if err != nil {
		return []geometry.Vec{p.Tip, p.Corner, top}
	}
	return path
}

// bendLike takes corner and radius from a path that is bent once, or reports that it is none.
func (p *Place) bendLike(path []geometry.Vec) bool {
	n := len(path)
	if n < 4 {
		return false
	}
	tip, d := path[0], path[1].Sub(path[0]).Unit()
	top, e := path[n-1], path[n-1].Sub(path[n-2]).Unit()
	cos := d.Dot(e)
	if 1-cos*cos < 1e-6 {
		return false
	}
	between := top.Sub(tip)
	along := (between.Dot(d) - cos*between.Dot(e)) / (1 - cos*cos)
	corner := tip.AddScaled(d, along)
	radius := corner.Dist(path[1]) / math.Tan(math.Acos(cos)/2)
	again, err := geometry.Bent(tip, corner, top, radius)
	if err != nil || len(again) != n {
		return false
	}
	for i := range path {
		if again[i].Dist(path[i]) > 1e-6 {
			return false
		}
	}
	p.Corner, p.Bend = corner, radius
	return true
}

// turn returns by how much the axis turns at the corner, rad, on its way up to a point.
func (p Place) turn(at geometry.Vec) float64 {
	lower, upper := p.Corner.Sub(p.Tip), at.Sub(p.Corner)
	return math.Atan2(lower.Cross(upper).Norm(), lower.Dot(upper))
}

// bends looks whether there is room for the bend on both legs, below the rim.
func (f *fitting) bends() *Misfit {
	p, at := f.place, f.passes(f.place)
	lower, upper, turn := p.Corner.Sub(p.Tip), at.Sub(p.Corner), p.turn(at)
	if turn < leastTurn || turn > mostTurn {
		return &Misfit{NotBent, max(leastTurn-turn, turn-mostTurn) * lower.Norm()}
	}
	// a straight piece as long as the shortest stretch is left of either leg
	if over := p.Bend*math.Tan(turn/2) + f.Shortest - min(lower.Norm(), upper.Norm()); over > 1e-9 {
		return &Misfit{NotBent, over}
	}
	return nil
}

// bentWetLength is wetLength of a bent rod, whose tip is under the liquid.
func (f *fitting) bentWetLength() float64 {
	along := 0.0
	for i := 1; i < len(f.rod.Path); i++ {
		a, b := f.rod.Path[i-1], f.rod.Path[i]
		ha, hb := f.Surface.Height(a), f.Surface.Height(b)
		if hb > 0 {
			return along + a.Dist(b)*ha/(ha-hb)
		}
		along += a.Dist(b)
	}
	return along
}

// bareBent is bare for a bent rod, held against the exact clearance: where that finds less
// than the look along the axis, the look is made again with what was lacking to spare.
func (f *fitting) bareBent() *Misfit {
	wish := f.place
	for range 3 {
		f.place.Bare, f.place.More = wish.Bare, wish.More
		if miss := f.bare(); miss != nil {
			return miss
		}
		lacking := f.clear()
		if lacking == nil {
			return f.outside()
		}
		f.spare += lacking.By + traceStep
	}
	return f.clear()
}

// outside looks whether rod or sleeve meets steel.
func (f *fitting) outside() *Misfit {
	gap := geometry.OutsideClearance(&f.rod, f.Steel, geometry.Span{From: 0, To: f.rod.Length()})
	if gap.Distance < f.Play-1e-9 {
		return &Misfit{HitsSteel, f.Play - gap.Distance}
	}
	return nil
}

// How many poses of a bent rod on its way in are looked at before it is given up.
const (
	threadPatience = 1000
	threadStall    = 40 // without coming farther out
)

// ThreadsIn returns why the rod of a place that fits cannot be brought in through its opening, or
// nil: a straight one goes in along itself, a bent one has to be threaded in, a flexible one goes in
// along its course with its spacers, which then have to hold it within Off.
func (s *Space) ThreadsIn(p Place) *Misfit {
	if p.Bend == 0 {
		return nil
	}
	full := s.withDefaults()
	rod := full.Rod(p)
	hold := full.holdAt(p, &rod)
	in, stop := passage.Passes(passage.Way{Rod: &rod, Hold: hold, Steel: full.Steel, Flexible: p.Flexible,
		Rim: full.Openings[p.Opening].Diameter / 2, Patience: threadPatience, Stall: threadStall})
	if in && p.Flexible && !s.Off.IsZero() {
		if d := geometry.HeldClearance(&rod, full.Steel, hold, s.Off).Distance; d < s.Clearance-1e-9 {
			return &Misfit{NothingBare, s.Clearance - d}
		}
	}
	if in {
		return nil
	}
	return &Misfit{NotThreaded, stop.Left}
}
