package search

import (
	"slices"

	"evenwall/geometry"
)

// move changes one rod of a layout.
type move struct {
	rod int
	way way
	by  float64 // m; for the thickness, places in the drawer
}

// way is what a move changes.
type way int

const (
	along     way = iota // the tip, along the rod: deeper is below zero
	aside                // the tip, level
	across               // the tip, at right angles to both
	throughU             // where it goes through the opening
	throughV             //
	bareFrom             // the bare stretch's lower end
	bareTo               // its upper end
	moreFrom             // the ends of the second stretch, where there is one
	moreTo               //
	sink                 // of a bent rod its corner and with it the tip: along the shank,
	heave                // level, and
	shove                // at right angles to both
	thickness            // the rod
)

// full is the step of each way at the start of the climbing, m. A rod is turned more by a
// step in the opening than by one at its tip.
func (w way) full() float64 {
	switch w {
	case throughU, throughV:
		return 0.008
	case thickness:
		return 1
	default:
		return 0.032
	}
}

// apply returns the layout moved; fitted holds the places as they were cut down, for the
// bare stretch's ends.
func (s *Space) apply(wish, fitted layout, moves ...move) layout {
	out := append(layout(nil), wish...)
	for _, m := range moves {
		out[m.rod] = s.moved(out[m.rod], fitted[m.rod], m)
	}
	return out
}

func (s *Space) moved(p, fitted Place, m move) Place {
	switch m.way {
	case throughU:
		p.U += m.by
	case throughV:
		p.V += m.by
	case bareFrom:
		p.Bare.From = fitted.Bare.From + m.by
	case bareTo:
		p.Bare.To = fitted.Bare.To + m.by
	case moreFrom:
		p.More.From = fitted.More.From + m.by
	case moreTo:
		p.More.To = fitted.More.To + m.by
	case thickness:
		p.Radius = s.neighbour(p.Radius, m.by)
		if p.Bend > 0 {
			p.Bend = s.bendOf(p.Radius)
		}
		if p.Flexible {
			p.Bend = s.leastBendOf(p.Radius)
		}
	case sink, heave, shove:
		d := s.direction(fitted, m.way).Scale(m.by)
		p.Tip, p.Corner = p.Tip.Add(d), p.Corner.Add(d)
	default:
		p.Tip = p.Tip.AddScaled(s.direction(fitted, m.way), m.by)
	}
	return p
}

// ways returns what moves can change about a rod in the place, besides its thickness.
func (p Place) ways() []way {
	all := []way{along, aside, across, throughU, throughV, bareFrom, bareTo}
	if p.Flexible { // which lies on the floor
		all = slices.DeleteFunc(all, func(w way) bool { return w == across })
	}
	if p.More.Length() > 0 {
		all = append(all, moreFrom, moreTo)
	}
	if p.Bend > 0 && !p.Flexible {
		all = append(all, sink, heave, shove)
	}
	return all
}

// direction returns the unit vector that a tip, or a corner with it, moves along.
func (s *Space) direction(p Place, w way) geometry.Vec {
	d := s.passes(p).Sub(p.foot()).Unit()
	if p.Bend > 0 && w <= across {
		d = p.Corner.Sub(p.Tip).Unit()
	}
	level := s.Surface.Normal.Cross(d)
	if level.Norm() < 1e-3 {
		level = s.Surface.Normal.Cross(geometry.V(1, 0, 0))
		if level.Norm() < 1e-3 {
			level = s.Surface.Normal.Cross(geometry.V(0, 1, 0))
		}
	}
	level = level.Unit()
	switch w {
	case aside, heave:
		return level
	case across, shove:
		return d.Cross(level)
	default:
		return d
	}
}

// neighbour returns the radius of the next rod in the drawer, thicker for by above zero.
func (s *Space) neighbour(radius, by float64) float64 {
	at := 0
	for i, r := range s.Radii {
		if r <= radius {
			at = i
		}
	}
	if by > 0 {
		return s.Radii[min(at+1, len(s.Radii)-1)]
	}
	return s.Radii[max(at-1, 0)]
}
