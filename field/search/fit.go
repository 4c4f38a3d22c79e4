package search

import (
	"math"

	"evenwall/geometry"
)

// Fit returns the place in whole millimetres with its bare stretch cut down to what keeps
// the clearance under the liquid: the longest such part of the stretch asked for. It
// returns why when the place cannot be used. Whether a bent rod can be threaded in is left to
// Space.ThreadsIn, which takes longer.
func (s *Space) Fit(wish Place) (Place, *Misfit) {
	full := s.withDefaults()
	f := fitting{Space: &full, place: wish.rounded()}
	if f.place.Flexible {
		if miss := f.layDown(); miss != nil {
			return f.place, miss
		}
	}
	f.rod = full.Rod(f.place)
	looks := []func() *Misfit{f.through, f.below, f.axisClear, f.inside, f.bare, f.wayIn, f.clear}
	if f.place.Bend > 0 {
		looks = []func() *Misfit{f.bends, f.through, f.below, f.axisClear, f.inside, f.bareBent}
	}
	for _, look := range looks {
		if miss := look(); miss != nil {
			return f.place, miss
		}
	}
	return f.place, nil
}

// fitting is one place being looked at, cheap checks first.
type fitting struct {
	*Space
	place Place
	rod   geometry.Rod
	spare float64 // kept besides the clearance, m
}

// through looks whether rod and sleeve pass the opening's circle: the ellipse that they
// cut from its plane is taken as wide on all sides as it is long.
func (f *fitting) through() *Misfit {
	o := &f.Openings[f.place.Opening]
	cos := f.shank().Dot(o.Axis.Unit())
	if cos < 0.05 {
		return &Misfit{NotThrough, o.Diameter}
	}
	wide := f.sleeve(f.place.Radius)
	if f.place.Flexible {
		wide = max(wide, f.rest(f.place.Radius))
	}
	need := math.Hypot(f.place.U, f.place.V) + wide/cos + f.Play
	if over := need - o.Diameter/2; over > 1e-9 {
		return &Misfit{NotThrough, over}
	}
	return nil
}

// below looks whether the tip hangs under the liquid and the rod leads up out of it.
func (f *fitting) below() *Misfit {
	if up := f.shank().Dot(f.Surface.Normal); up < 0.05 {
		return &Misfit{NotIn, f.Depth(f.place)}
	}
	if h := f.Surface.Height(f.place.Tip); h >= -f.Shortest {
		return &Misfit{NotIn, h + f.Shortest}
	}
	return nil
}

// shank returns the direction of the rod where it goes through its opening.
func (f *fitting) shank() geometry.Vec {
	n := len(f.rod.Path)
	return f.rod.Path[n-1].Sub(f.rod.Path[n-2]).Unit()
}

// axisClear is the cheap form of clear: no part of rod or sleeve is thinner than the metal.
func (f *fitting) axisClear() *Misfit {
	need := f.place.Radius + min(f.Play, f.Clearance)
	from, _ := f.rod.At(f.place.Radius)
	for _, to := range f.rod.Path[1:] {
		if _, _, _, d := f.Steel.SegmentWithin(from, to, need); d < need-1e-9 {
			return &Misfit{HitsSteel, need - d}
		}
		from = to
	}
	return nil
}

// inside looks whether the axis leaves the tank through another opening.
func (f *fitting) inside() *Misfit {
	below := append(append([]geometry.Vec(nil), f.rod.Path[:len(f.rod.Path)-1]...), f.passes(f.place))
	for i := range f.Openings {
		if i == f.place.Opening {
			continue
		}
		o := &f.Openings[i]
		plane := geometry.PlaneThrough(o.Centre, o.Axis)
		for k := 1; k < len(below); k++ {
			a, b := plane.Height(below[k-1]), plane.Height(below[k])
			if (a > 0) == (b > 0) {
				continue
			}
			if off := below[k-1].Lerp(below[k], a/(a-b)).Dist(o.Centre); off < o.Diameter/2 {
				return &Misfit{LeavesTank, o.Diameter/2 - off}
			}
		}
	}
	return nil
}

// bare cuts the bare stretches down. A second one of which too little is left is dropped.
func (f *fitting) bare() *Misfit {
	wet := f.wetLength()
	wish := geometry.Span{From: max(f.place.Bare.From, 0), To: min(f.place.Bare.To, wet)}
	if wish.From < f.Shortest {
		wish.From = 0
	}
	allowed, nearest := f.allowed(geometry.Span{From: f.place.Radius, To: max(wet, f.place.Radius)})
	best := f.longest(allowed, wish)
	if most := best.Length(); most < f.Shortest-1e-9 {
		return &Misfit{NothingBare, max(nearest, f.Shortest-most)}
	}
	more := geometry.Span{}
	if f.place.More.Length() > 0 {
		more = f.longest(allowed, geometry.Span{From: max(f.place.More.From, best.To+f.Shortest), To: min(f.place.More.To, wet)})
	}
	if more.Length() < f.Shortest-1e-9 {
		more = geometry.Span{}
	}
	f.place.Bare, f.place.More = best, more
	f.rod.Bare = f.place.stretches()
	return nil
}

// longest returns the longest part of a stretch asked for, in whole millimetres, that is allowed.
func (f *fitting) longest(allowed []geometry.Span, wish geometry.Span) geometry.Span {
	best, most := geometry.Span{}, 0.0
	for _, a := range allowed {
		if a.From <= f.place.Radius {
			a.From = 0
		}
		part := geometry.Span{From: toStepUp(max(a.From, wish.From)), To: toStepDown(min(a.To, wish.To))}
		if 0 < part.From && part.From < f.Shortest {
			part.From = f.Shortest
		}
		if part.Length() > most {
			best, most = part, part.Length()
		}
	}
	return best
}

// wetLength returns how far from the tip the axis comes out of the liquid, m.
func (f *fitting) wetLength() float64 {
	if f.place.Bend > 0 {
		return f.bentWetLength()
	}
	_, d := f.rod.At(0)
	wet := -f.Surface.Height(f.place.Tip) / d.Dot(f.Surface.Normal)
	return min(wet, f.rod.Length())
}

// traceStep is the least step along an axis while looking for steel, m.
const traceStep = 0.0005

// allowed returns the stretches of the axis within range over which bare metal keeps the
// clearance, and by how much the best point misses it, m, if none does. A distance changes
// no faster than the point moves, and what the hand may be off no faster than its tilt, so
// that each look tells how far the next can be.
func (f *fitting) allowed(within geometry.Span) (spans []geometry.Span, missing float64) {
	least, held := f.Clearance+f.place.Radius+traceStep/2+f.spare, f.Depth(f.place)
	passes := f.passes(f.place)
	pace, leg := 1/(1+2*math.Sin(f.Off.Tilt/2)), f.legEnds()
	missing = math.Inf(1)
	in := false
	for at := within.From; at < within.To; {
		p, _ := f.rod.At(at)
		away := held - at
		if f.place.Bend > 0 {
			away = p.Dist(passes)
		}
		need := least + f.Off.Reach(away)
		if at < leg { // spacers hold it
			need = least
		}
		_, _, d := f.Steel.ClosestWithin(p, need+0.2)
		spare := d - need
		missing = min(missing, -spare)
		to := min(at+spare*pace, within.To) // so far it is certain
		if at < leg {
			to = min(to, leg)
		}
		switch {
		case spare >= 0 && in:
			spans[len(spans)-1].To = to
		case spare >= 0:
			spans = append(spans, geometry.Span{From: at, To: to})
		}
		in = spare >= 0
		next := at + max(math.Abs(spare)*pace, traceStep)
		if at < leg {
			next = min(next, max(leg, at+traceStep)) // beyond it more is needed
		}
		at = next
	}
	return spans, max(missing, 0)
}

// wayIn looks whether the rod can slide in along its own axis: what passes a point on the
// way is all that lies below it.
func (f *fitting) wayIn() *Misfit {
	swept := f.rod
	top := f.rod.Path[1].AddScaled(f.rod.Path[1].Sub(f.rod.Path[0]), 1)
	swept.Path = geometry.Straight(f.rod.Path[0], top)
	swept.Bare = []geometry.Span{f.place.Bare} // the sleeve over it goes up all the way
	if f.place.Bare.From > 0 {
		swept.Bare = nil // the sleeve on the tip goes all the way
	}
	gap := geometry.OutsideClearance(&swept, f.Steel, geometry.Span{From: 0, To: swept.Length()})
	if gap.Distance < f.Play-1e-9 {
		return &Misfit{HitsSteel, f.Play - gap.Distance}
	}
	return nil
}

// clear holds the bare metal against the clearance, exactly.
func (f *fitting) clear() *Misfit {
	if d := f.bareClearance(f.place, &f.rod); d < f.Clearance-1e-9 {
		return &Misfit{NothingBare, f.Clearance - d}
	}
	return nil
}

// bareClearance returns the least distance from the bare metal of a rod at a place to steel,
// m, in the worst case of the hand.
func (s *Space) bareClearance(p Place, r *geometry.Rod) float64 {
	if s.Off.IsZero() || p.Flexible { // what holds a flexible one off its place is looked at in ThreadsIn
		return geometry.BareClearance(r, s.Steel, nil).Distance
	}
	return geometry.WorstClearance(r, s.Steel, s.holdAt(p, r), s.Off).Distance
}

// holdAt returns where the rod of a place is held.
func (s *Space) holdAt(p Place, r *geometry.Rod) geometry.Hold {
	n := len(r.Path)
	along := r.Path[n-1].Sub(r.Path[n-2]).Unit()
	_, _, axis := frame(&s.Openings[p.Opening])
	return geometry.Hold{At: s.passes(p), Along: along, Normal: axis, S: s.Depth(p)}
}

// toStepUp rounds up to a whole millimetre; what is one to within rounding stays.
func toStepUp(x float64) float64 { return math.Ceil(x*1000-1e-6)/1000 + 0 }

// toStepDown rounds down likewise.
func toStepDown(x float64) float64 { return math.Floor(x*1000+1e-6)/1000 + 0 }
