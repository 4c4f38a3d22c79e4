package search

import (
	"math"

	"evenwall/geometry"
)

// Place is where a rod hangs, straight or bent once. A wish may ask for more bare metal than
// the clearance allows; Space.Fit cuts it down.
type Place struct {
	Opening int           // of the space's openings
	U, V    float64       // where the axis goes through the opening's plane, m from its middle: U to +x, V to +y
	Tip     geometry.Vec  // m
	Radius  float64       // of the metal, m
	Bare    geometry.Span // m from the tip; the rest is under plastic
	More    geometry.Span // a second bare stretch, farther from the tip; zero: none
	Bend    float64       // radius to which its axis is bent, m; 0: straight
	Corner  geometry.Vec  // of a bent one: where the axes of its two legs meet

	// Flexible says that the anode is no stiff rod: it hangs plumb, turns round Bend over the floor and
	// lies on spacers. Corner and the height of Tip are then found by Space.Fit.
	Flexible bool
}

// passes returns the point where the rod's axis goes through its opening's plane.
func (s *Space) passes(p Place) geometry.Vec {
	o := &s.Openings[p.Opening]
	u, v, _ := frame(o)
	return o.Centre.AddScaled(u, p.U).AddScaled(v, p.V)
}

// Depth returns how far the tip is from the opening's plane along the rod, m.
func (s *Space) Depth(p Place) float64 {
	if p.Bend > 0 {
		below := geometry.Rod{Path: p.path(s.passes(p))}
		return below.Length()
	}
	return s.passes(p).Dist(p.Tip)
}

// Lean returns the angle between rod and plumb line, and the direction, level, unit
// length, in which the rod's upper end leans; the zero vector when it hangs plumb.
func (s *Space) Lean(p Place) (angle float64, toward geometry.Vec) {
	up := s.Surface.Normal
	d := s.passes(p).Sub(p.foot()).Unit()
	aside := d.AddScaled(up, -d.Dot(up))
	return math.Atan2(aside.Norm(), d.Dot(up)), aside.Unit()
}

// Rod returns the rod that hangs in the place, round at the tip.
func (s *Space) Rod(p Place) geometry.Rod {
	full := s.withDefaults()
	at := s.passes(p)
	d := at.Sub(p.foot()).Unit()
	r := geometry.Rod{
		Name: "rod", Path: p.path(at.AddScaled(d, full.Above)),
		Radius: p.Radius, Bare: p.stretches(), Sleeve: full.sleeve(p.Radius),
	}
	if p.Flexible {
		r.Spacers = full.spacers(p)
	}
	return r
}

// stretches returns what of the rod is bare.
func (p Place) stretches() []geometry.Span {
	if p.More.Length() > 0 {
		return []geometry.Span{p.Bare, p.More}
	}
	return []geometry.Span{p.Bare}
}

// PlaceOf returns the place of a rod and false when it goes through no opening that a rod can
// hang in, or is neither straight nor, where the space has such, bent once. Of more bare
// stretches than the space allows the first are taken.
func (s *Space) PlaceOf(r *geometry.Rod) (Place, bool) {
	p := Place{Tip: r.Path[0], Radius: r.Radius}
	straight := len(r.Path) == 2 && r.Path[0] != r.Path[1]
	if len(r.Bare) == 0 || !straight && !(s.Bent && p.bendLike(r.Path)) {
		return Place{}, false
	}
	foot, top := p.foot(), r.Path[len(r.Path)-1]
	d := top.Sub(foot).Unit()
	for _, i := range s.Ways() {
		o := &s.Openings[i]
		u, v, axis := frame(o)
		toward := d.Dot(axis)
		if toward <= 0 {
			continue
		}
		q := foot.AddScaled(d, o.Centre.Sub(foot).Dot(axis)/toward).Sub(o.Centre)
		if q.Norm() <= o.Diameter/2 {
			p.Opening, p.U, p.V, p.Bare = i, q.Dot(u), q.Dot(v), r.Bare[0]
			if len(r.Bare) > 1 && s.Stretches > 1 {
				p.More = r.Bare[1]
			}
			return p, true
		}
	}
	return Place{}, false
}

// rounded returns the place in steps that a hand can measure: half a millimetre in the
// opening, a millimetre elsewhere.
func (p Place) rounded() Place {
	p.U, p.V = toStep(p.U, 2000), toStep(p.V, 2000)
	p.Tip = inMillimetres(p.Tip)
	if !p.Flexible { // whose corner is plumb under its place in the opening
		p.Corner = inMillimetres(p.Corner)
	}
	return p
}

func inMillimetres(p geometry.Vec) geometry.Vec {
	return geometry.V(toStep(p.X, 1000), toStep(p.Y, 1000), toStep(p.Z, 1000))
}

func toStep(x, perMetre float64) float64 { return math.Round(x*perMetre)/perMetre + 0 }
