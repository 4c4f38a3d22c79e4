package shape

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/polygon"
)

// skin grows a mesh from rings of points. Points of a ring that coincide with their
// predecessor share its vertex, so a ring may shrink to a pole or an arc to a corner.
type skin struct {
	mesh geometry.Mesh
	last []int32 // the ring laid last, by vertex number
	ring []geometry.Vec
}

// coincident is the distance below which two points of a ring are one, m.
const coincident = 1e-9

// tube returns the closed surface through the rings, all of one length, which run
// anticlockwise seen from the far end of the tube; first and last are closed by flat
// caps unless they are single points.
func tube(rings [][]geometry.Vec) geometry.Mesh {
	var s skin
	for _, r := range rings {
		s.lay(r)
	}
	s.cap(s.last, false)
	s.cap(s.verticesOf(0, rings[0]), true)
	return s.mesh
}

// hoop returns the surface through rings that run in a circle: the last is joined to
// the first.
func hoop(rings [][]geometry.Vec) geometry.Mesh {
	var s skin
	for _, r := range rings {
		s.lay(r)
	}
	s.band(s.last, s.verticesOf(0, rings[0]))
	return s.mesh
}

// lay adds a ring and the facets between it and the one before. A ring on top of the
// one before is left out.
func (s *skin) lay(ring []geometry.Vec) {
	if s.ring != nil && sameRing(s.ring, ring) {
		return
	}
	s.ring = ring
	ids := s.verticesOf(int32(len(s.mesh.Vertices)), ring)
	for i, id := range ids {
		if int(id) == len(s.mesh.Vertices) {
			s.mesh.Vertices = append(s.mesh.Vertices, ring[i])
		}
	}
	if s.last != nil {
		s.band(s.last, ids)
	}
	s.last = ids
}

func sameRing(a, b []geometry.Vec) bool {
	for i := range a {
		if a[i].Dist(b[i]) >= coincident {
			return false
		}
	}
	return true
}

// verticesOf numbers the points of a ring from first, equal neighbours alike.
func (s *skin) verticesOf(first int32, ring []geometry.Vec) []int32 {
	ids := make([]int32, len(ring))
	next := first
	for i, p := range ring {
		switch {
		case i > 0 && p.Dist(ring[i-1]) < coincident:
			ids[i] = ids[i-1]
		case i > 0 && p.Dist(ring[0]) < coincident && closesOnFirst(ring[i:], ring[0]):
			ids[i] = first
		default:
			ids[i] = next
			next++
		}
	}
	return ids
}

// closesOnFirst reports whether the rest of a ring stays at its first point.
func closesOnFirst(rest []geometry.Vec, start geometry.Vec) bool {
	for _, p := range rest {
		if p.Dist(start) >= coincident {
			return false
		}
	}
	return true
}

// band joins two rings by quadrilaterals, each cut along its shorter diagonal.
func (s *skin) band(low, high []int32) {
	v := s.mesh.Vertices
	for i := range low {
		k := (i + 1) % len(low)
		a, b, c, d := low[i], low[k], high[k], high[i]
		if v[a].Dist(v[c]) <= v[b].Dist(v[d])*(1+1e-9) {
			s.facet(a, b, c)
			s.facet(a, c, d)
		} else {
			s.facet(a, b, d)
			s.facet(b, c, d)
		}
	}
}

// facet adds a triangle unless two of its corners are one.
func (s *skin) facet(a, b, c int32) {
	if a != b && b != c && c != a {
		s.mesh.Faces = append(s.mesh.Faces, [3]int32{a, b, c})
	}
}

// cap closes the mesh over a flat ring; first says that it is the ring laid first,
// which is seen from behind.
func (s *skin) cap(ids []int32, first bool) {
	var loop []int32
	for _, id := range ids {
		if len(loop) == 0 || id != loop[len(loop)-1] && id != loop[0] {
			loop = append(loop, id)
		}
	}
	if len(loop) < 3 {
		return
	}
	for _, t := range polygon.Triangulate(flatten(s.mesh.Vertices, loop)) {
		a, b, c := loop[t[0]], loop[t[1]], loop[t[2]]
		if first {
			a, b = b, a
		}
		s.facet(a, b, c)
	}
}

// flatten returns the loop in coordinates of its own plane, running anticlockwise.
func flatten(vertices []geometry.Vec, loop []int32) []polygon.Point {
	var normal geometry.Vec
	o := vertices[loop[0]]
	for i := range loop {
		a, b := vertices[loop[i]].Sub(o), vertices[loop[(i+1)%len(loop)]].Sub(o)
		normal = normal.Add(a.Cross(b))
	}
	u, v := normal.Perpendicular()
	out := make([]polygon.Point, len(loop))
	for i, id := range loop {
		p := vertices[id].Sub(o)
		out[i] = polygon.Point{X: p.Dot(u), Y: p.Dot(v)}
	}
	return out
}

// mostSteps bounds the size of a mesh, whatever the edge asked for.
const mostSteps = 256

// steps returns into how many parts of at most about edge a length is cut, but at most
// mostSteps.
func steps(length, edge float64) int {
	if !(edge > 0) {
		edge = DefaultEdge
	}
	return int(math.Min(math.Max(math.Ceil(length/edge-1e-6), 1), mostSteps))
}

// arcSteps returns into how many parts an arc is cut: no part longer than about edge
// nor wider than 15 degrees.
func arcSteps(radius, angle, edge float64) int {
	return max(steps(radius*angle, edge), int(math.Ceil(angle/(math.Pi/12)-1e-6)), 1)
}
