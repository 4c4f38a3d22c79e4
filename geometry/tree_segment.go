package geometry

import "math"

// ClosestOnSegment returns the fraction t in [0, 1] of the way from a to b at which the
// segment is nearest to p.
func ClosestOnSegment(p, a, b Vec) float64 {
	d := b.Sub(a)
	length2 := d.Dot(d)
	if length2 == 0 {
		return 0
	}
	return min(max(p.Sub(a).Dot(d)/length2, 0), 1)
}

// SegmentGap returns the nearest points of the segments ab and cd.
// Ericson (2005), section 5.1.9.
func SegmentGap(a, b, c, d Vec) (onAB, onCD Vec) {
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	uu, vv, uw, vw := u.Dot(u), v.Dot(v), u.Dot(w), v.Dot(w)
	if uu == 0 {
		return a, c.AddScaled(v, ClosestOnSegment(a, c, d))
	}
	if vv == 0 {
		return a.AddScaled(u, ClosestOnSegment(c, a, b)), c
	}
	uv := u.Dot(v)
	denominator := uu*vv - uv*uv
	s := 0.0
	if denominator > 0 {
		s = min(max((uv*vw-uw*vv)/denominator, 0), 1)
	}
	t := (uv*s + vw) / vv
	if t < 0 || t > 1 {
		t = min(max(t, 0), 1)
		s = min(max((uv*t-uw)/uu, 0), 1)
	}
	onAB, onCD = a.AddScaled(u, s), c.AddScaled(v, t)
	if denominator < 1e-8*uu*vv {
		return endGap([4]Vec{a, b, c, d}, onAB, onCD)
	}
	return onAB, onCD
}

// endGap returns the nearest of p, q and the four pairs with an end of ab or cd: for
// segments so nearly parallel that the general formula is at the mercy of rounding.
func endGap(ends [4]Vec, p, q Vec) (onAB, onCD Vec) {
	onAB, onCD = p, q
	a, b, c, d := ends[0], ends[1], ends[2], ends[3]
	for _, pair := range [4][2]Vec{
		{a, c.Lerp(d, ClosestOnSegment(a, c, d))}, {b, c.Lerp(d, ClosestOnSegment(b, c, d))},
		{a.Lerp(b, ClosestOnSegment(c, a, b)), c}, {a.Lerp(b, ClosestOnSegment(d, a, b)), d},
	} {
		if pair[0].Dist(pair[1]) < onAB.Dist(onCD) {
			onAB, onCD = pair[0], pair[1]
		}
	}
	return onAB, onCD
}

// Gap returns the nearest points of the segment ab and of t; where the segment pierces
// t both are the crossing point.
func (t Triangle) Gap(a, b Vec) (onSegment, onTriangle Vec) {
	if x, ok := t.pierced(a, b); ok {
		return x, x
	}
	best := math.Inf(1)
	offer := func(p, q Vec) {
		if d := p.Sub(q); d.Dot(d) < best {
			best, onSegment, onTriangle = d.Dot(d), p, q
		}
	}
	offer(a, t.closestTo(a))
	offer(b, t.closestTo(b))
	offer(SegmentGap(a, b, t.A, t.B))
	offer(SegmentGap(a, b, t.B, t.C))
	offer(SegmentGap(a, b, t.C, t.A))
	return onSegment, onTriangle
}

// pierced returns where the segment ab goes through the inside of t. Crossings on an
// edge may be missed: there the distance to the edge is zero as well.
func (t Triangle) pierced(a, b Vec) (Vec, bool) {
	n := t.B.Sub(t.A).Cross(t.C.Sub(t.A))
	da, db := n.Dot(a.Sub(t.A)), n.Dot(b.Sub(t.A))
	if da*db > 0 || da == db {
		return Vec{}, false
	}
	x := a.Lerp(b, da/(da-db))
	return x, t.covers(x, n)
}

// covers reports whether x, moved along n onto the plane of t, lies in t; n is any
// multiple of the normal.
func (t Triangle) covers(x, n Vec) bool {
	return n.Dot(t.B.Sub(t.A).Cross(x.Sub(t.A))) >= 0 &&
		n.Dot(t.C.Sub(t.B).Cross(x.Sub(t.B))) >= 0 &&
		n.Dot(t.A.Sub(t.C).Cross(x.Sub(t.C))) >= 0
}

// needle is the height of a facet over its length below which its inside is left out of distances:
// the barycentric division loses its digits there, and its edges are as near to within a
// millionth of its length.
const needle = 1e-6

// closestTo is Closest for facets that may be needles or without area.
func (t Triangle) closestTo(p Vec) Vec {
	u, v := t.B.Sub(t.A), t.C.Sub(t.A)
	n := u.Cross(v)
	if length := max(u.Dot(u), v.Dot(v)); n.Dot(n) > needle*needle*length*length {
		return t.Closest(p)
	}
	q := t.A.Lerp(t.B, ClosestOnSegment(p, t.A, t.B))
	for _, e := range [2][2]Vec{{t.B, t.C}, {t.C, t.A}} {
		if c := e[0].Lerp(e[1], ClosestOnSegment(p, e[0], e[1])); c.Dist(p) < q.Dist(p) {
			q = c
		}
	}
	return q
}

// Segment returns the nearest points of the segment ab and of the mesh, the face and the
// distance, m: 0, with the crossing point twice, where the segment pierces the mesh.
func (t *Tree) Segment(a, b Vec) (onSegment, onMesh Vec, face int32, dist float64) {
	return t.SegmentWithin(a, b, math.Inf(1))
}

// SegmentWithin is Segment for those who care only about distances below bound metres:
// with none, face is -1 and dist is bound.
func (t *Tree) SegmentWithin(a, b Vec, bound float64) (onSegment, onMesh Vec, face int32, dist float64) {
	face, dist = -1, bound
	t.near(a, b, &dist, func(k int32) {
		p, q := t.triangle(k).Gap(a, b)
		if d := p.Dist(q); d < dist {
			onSegment, onMesh, face, dist = p, q, t.faces[k], d
		}
	})
	return onSegment, onMesh, face, dist
}

// near calls visit for every facet, by leaf order, that may be nearer to the segment ab
// than *bound, nearest boxes first; visit lowers *bound as it finds.
func (t *Tree) near(a, b Vec, bound *float64, visit func(k int32)) {
	var stack [treeDepth]pendingSegment
	if len(t.nodes) == 0 {
		return
	}
	seg := newSegmentBounds(a, b)
	stack[0] = pendingSegment{0, seg.least(t.nodes[0].box())}
	for n := 1; n > 0; {
		n--
		at, node := stack[n], &t.nodes[stack[n].node]
		if at.least >= *bound {
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			visit(k)
		}
		if node.count > 0 {
			continue
		}
		near := pendingSegment{at.node + 1, seg.least(t.nodes[at.node+1].box())}
		far := pendingSegment{node.first, seg.least(t.nodes[node.first].box())}
		if far.least < near.least {
			near, far = far, near
		}
		stack[n], stack[n+1] = far, near
		n += 2
	}
}

type pendingSegment struct {
	node  int32
	least float64 // m
}

// segmentBounds holds what the lower bounds of one segment need.
type segmentBounds struct {
	a, d    Vec
	inverse float64 // 1 / length², 0 for a point
	box     Box
}

func newSegmentBounds(a, b Vec) segmentBounds {
	s := segmentBounds{a: a, d: b.Sub(a), box: BoxOf(a, b)}
	if l := s.d.Dot(s.d); l > 0 {
		s.inverse = 1 / l
	}
	return s
}

// least returns a lower bound of the distance between the segment and a box, m: the
// better of box to box and segment to the ball around the box. It may be negative.
func (s *segmentBounds) least(b Box) float64 {
	dx := max(0, b.Min.X-s.box.Max.X, s.box.Min.X-b.Max.X)
	dy := max(0, b.Min.Y-s.box.Max.Y, s.box.Min.Y-b.Max.Y)
	dz := max(0, b.Min.Z-s.box.Max.Z, s.box.Min.Z-b.Max.Z)
	boxes := math.Sqrt(dx*dx + dy*dy + dz*dz)
	centre := b.Centre()
	t := min(max(centre.Sub(s.a).Dot(s.d)*s.inverse, 0), 1)
	ball := centre.Dist(s.a.AddScaled(s.d, t)) - b.Size().Norm()/2
	return max(boxes, ball)
}
