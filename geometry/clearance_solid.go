package geometry

import "math"

// solid is a convex part of a rod: a ball when from and to are one point, otherwise a
// round cylinder with flat ends. gone marks one with nothing left.
type solid struct {
	from, to Vec
	radius   float64 // m
	flat     bool
	gone     bool
}

// keepBelow shortens s to what lies under the plane, see BareClearance; nil changes nothing.
func (s *solid) keepBelow(plane *Plane) {
	if plane == nil || s.gone {
		return
	}
	h0, h1 := plane.Height(s.from), plane.Height(s.to)
	reach := s.radius // of a ball, along the normal
	if s.flat {
		cos := plane.Normal.Dot(s.to.Sub(s.from).Unit())
		reach = s.radius * math.Sqrt(max(0, 1-cos*cos))
	}
	if min(h0, h1)-reach >= 0 {
		s.gone = true
		return
	}
	if max(h0, h1) <= reach || h0 == h1 {
		return
	}
	cut := s.from.Lerp(s.to, (reach-h0)/(h1-h0))
	if h0 < h1 {
		s.to = cut
	} else {
		s.from = cut
	}
}

// gapTo returns the gap to the facets in t if it is less than best, otherwise best.
func (s *solid) gapTo(t *Tree, best Gap) Gap {
	if s.gone {
		return best
	}
	bound := best.Distance + s.radius
	t.near(s.from, s.to, &bound, func(k int32) {
		if g := s.gap(t.triangle(k), best.Distance); g.Distance < best.Distance {
			g.Face = t.faces[k]
			best = g
			bound = g.Distance + s.radius
		}
	})
	return best
}

// gap returns the gap to one facet if it is below limit, otherwise any not below it. Face
// is not set.
func (s *solid) gap(t Triangle, limit float64) Gap {
	onAxis, onWall := t.Gap(s.from, s.to)
	d := onAxis.Dist(onWall)
	round := Gap{d - s.radius, onAxis.AddScaled(onWall.Sub(onAxis).Unit(), s.radius), onWall, -1}
	if !s.flat || round.Distance >= limit || s.besideAxis(onAxis, onWall) {
		return round
	}
	if g := s.cylinderGap(t); g.Distance > 1e-9*s.radius {
		return g
	}
	return Gap{min(round.Distance, 0), round.OnRod, onWall, -1}
}

// besideAxis reports whether the foot of a gap is on the round side: then the rounded
// cylinder's gap is that of the flat one, which lies within it.
func (s *solid) besideAxis(onAxis, onWall Vec) bool {
	along, across := s.split(onWall)
	return along >= 0 && along <= s.length() && across > s.radius && onAxis != onWall
}

func (s *solid) length() float64 { return s.to.Dist(s.from) }

// split returns the coordinate of p along the axis from s.from and its distance from the axis, m.
func (s *solid) split(p Vec) (along, across float64) {
	d := s.to.Sub(s.from).Unit()
	q := p.Sub(s.from)
	along = q.Dot(d)
	return along, q.AddScaled(d, -along).Norm()
}

// nearest returns the point of the cylinder nearest to p, p itself when inside.
func (s *solid) nearest(p Vec) Vec {
	d := s.to.Sub(s.from)
	length := d.Norm()
	d = d.Scale(1 / length)
	q := p.Sub(s.from)
	along := q.Dot(d)
	aside := q.AddScaled(d, -along)
	if across := aside.Norm(); across > s.radius {
		aside = aside.Scale(s.radius / across)
	}
	return s.from.AddScaled(d, min(max(along, 0), length)).Add(aside)
}

// cylinderGap returns the distance between a facet and the solid cylinder, two convex
// sets: least on one of the facet's edges, or where a plane parallel to the facet
// supports the cylinder inside the facet's outline. Distance is 0 when they share a point.
func (s *solid) cylinderGap(t Triangle) Gap {
	best := noGap()
	offer := func(onWall Vec) {
		onRod := s.nearest(onWall)
		if d := onRod.Dist(onWall); d < best.Distance {
			best = Gap{d, onRod, onWall, -1}
		}
	}
	offer(s.edgeFoot(t.A, t.B))
	offer(s.edgeFoot(t.B, t.C))
	offer(s.edgeFoot(t.C, t.A))
	normal := t.Normal()
	if normal == (Vec{}) {
		return best
	}
	plus, minus := s.support(normal), s.support(normal.Scale(-1))
	hp, hm := normal.Dot(plus.Sub(t.A)), normal.Dot(minus.Sub(t.A))
	switch {
	case hp > 0 && hm < 0: // the plane cuts the cylinder, here among other places
		if x := minus.Lerp(plus, hm/(hm-hp)); t.covers(x, normal) {
			return Gap{0, x, x, -1}
		}
	case hm >= 0:
		if x := minus.AddScaled(normal, -hm); t.covers(x, normal) {
			offer(x)
		}
	default:
		if x := plus.AddScaled(normal, -hp); t.covers(x, normal) {
			offer(x)
		}
	}
	return best
}

// support returns a point of the cylinder farthest along n: the middle of an end that
// faces n squarely.
func (s *solid) support(n Vec) Vec {
	d := s.to.Sub(s.from).Unit()
	along := n.Dot(d)
	end := s.from
	if along > 0 {
		end = s.to
	}
	aside := n.AddScaled(d, -along)
	if aside.Norm() < 1e-12 {
		return end
	}
	return end.AddScaled(aside.Unit(), s.radius)
}

// edgeFoot returns the point of the segment ab nearest to the cylinder. The squared
// distance to a convex set is convex with a continuous slope: its zero is bisected.
func (s *solid) edgeFoot(a, b Vec) Vec {
	d := b.Sub(a)
	slope := func(t float64) float64 {
		p := a.AddScaled(d, t)
		return p.Sub(s.nearest(p)).Dot(d)
	}
	if slope(0) >= 0 {
		return a
	}
	if slope(1) <= 0 {
		return b
	}
	low, high := 0.0, 1.0
	for range 52 {
		middle := (low + high) / 2
		if slope(middle) < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return a.AddScaled(d, (low+high)/2)
}
