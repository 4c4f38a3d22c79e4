package geometry

import (
	"math"
	"slices"
)

// Plane is the set of points x with Normal · x = Offset. Normal has length 1 and points
// to the upper side.
type Plane struct {
	Normal Vec
	Offset float64 // m from the origin along Normal
}

// PlaneThrough returns the plane through p with the given normal, which need not be of
// unit length but must not be zero.
func PlaneThrough(p, normal Vec) Plane {
	n := normal.Unit()
	return Plane{n, n.Dot(p)}
}

// Height returns how far p is above the plane, m; negative below.
func (p Plane) Height(x Vec) float64 { return p.Normal.Dot(x) - p.Offset }

// Flipped returns the same plane with its sides exchanged.
func (p Plane) Flipped() Plane { return Plane{p.Normal.Scale(-1), -p.Offset} }

// between returns the point of the edge ab at height zero. It is the same to the last bit
// for ab and ba, so that facets cut along a shared edge still fit.
func between(a, b Vec, ha, hb float64) Vec {
	if b.X < a.X || b.X == a.X && (b.Y < a.Y || b.Y == a.Y && b.Z < a.Z) {
		a, b, ha, hb = b, a, hb, ha
	}
	return a.Lerp(b, ha/(ha-hb))
}

// Below returns the part of t on the lower side of the plane as up to two triangles wound
// like t, and how many there are. A facet in the plane counts as below.
func (t Triangle) Below(plane Plane) (parts [2]Triangle, n int) {
	corners := [3]Vec{t.A, t.B, t.C}
	return cutCorners(corners, [3]float64{plane.Height(t.A), plane.Height(t.B), plane.Height(t.C)})
}

// cutCorners keeps the part of a facet with corner heights h at or below zero.
func cutCorners(corners [3]Vec, h [3]float64) (parts [2]Triangle, n int) {
	var polygon [4]Vec
	for i := range 3 {
		k := (i + 1) % 3
		if h[i] <= 0 {
			polygon[n] = corners[i]
			n++
		}
		if (h[i] < 0 && h[k] > 0) || (h[i] > 0 && h[k] < 0) {
			polygon[n] = between(corners[i], corners[k], h[i], h[k])
			n++
		}
	}
	switch n {
	case 3:
		return [2]Triangle{{polygon[0], polygon[1], polygon[2]}}, 1
	case 4:
		return [2]Triangle{{polygon[0], polygon[1], polygon[2]}, {polygon[0], polygon[2], polygon[3]}}, 2
	default:
		return parts, 0
	}
}

// Slack is how near to a plane counts as in it. The zero value is none.
type Slack struct {
	Corner float64 // m: a corner this near is in the plane
	Facet  float64 // m: a facet with all its corners this near is kept as below, whole
}

// Below returns the part of m on the lower side of the plane, and for each of its faces
// the face of m it comes from. What lies in the plane counts as below. Where that is all of m
// the mesh is m's own, shared.
func (m *Mesh) Below(plane Plane, slack Slack) (Mesh, []int32) {
	heights := make([]float64, len(m.Vertices))
	for i, v := range m.Vertices {
		if h := plane.Height(v); math.Abs(h) > slack.Corner {
			heights[i] = h
		}
	}
	whole := func(f [3]int32) (low float64, kept bool) {
		low = min(heights[f[0]], heights[f[1]], heights[f[2]])
		high := max(heights[f[0]], heights[f[1]], heights[f[2]])
		return low, high <= 0 || high <= slack.Facet && low >= -slack.Facet
	}
	first := slices.IndexFunc(m.Faces, func(f [3]int32) bool { _, kept := whole(f); return !kept })
	if first < 0 {
		return Mesh{slices.Clip(m.Vertices), slices.Clip(m.Faces)}, upTo(len(m.Faces))
	}
	out, source := newSoup(m.Vertices), make([]int32, 0, len(m.Faces))
	for i, f := range m.Faces {
		low, kept := whole(f)
		if kept {
			out.keep(f)
			source = append(source, int32(i))
			continue
		}
		if low >= 0 {
			continue
		}
		t := m.Triangle(i)
		out.expect(f)
		parts, n := cutCorners([3]Vec{t.A, t.B, t.C}, [3]float64{heights[f[0]], heights[f[1]], heights[f[2]]})
		for _, part := range parts[:n] {
			if out.add(part) {
				source = append(source, int32(i))
			}
		}
	}
	return out.mesh, source
}

// upTo returns 0, 1 … n-1.
func upTo(n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = int32(i)
	}
	return out
}

// soup gathers facets, some whole from an older mesh and some newly cut, into a mesh in
// which equal points are one vertex.
type soup struct {
	old  []Vec
	kept []int32       // new index of each old vertex, plus 1
	cut  map[Vec]int32 // new index of vertices made by cutting, −1 − old index of others
	mesh Mesh
}

func newSoup(old []Vec) *soup {
	return &soup{old: old, kept: make([]int32, len(old)), cut: map[Vec]int32{}}
}

// keep adds a face by its old corners.
func (s *soup) keep(f [3]int32) {
	s.mesh.Faces = append(s.mesh.Faces, [3]int32{s.keepVertex(f[0]), s.keepVertex(f[1]), s.keepVertex(f[2])})
}

func (s *soup) keepVertex(v int32) int32 {
	if s.kept[v] == 0 {
		s.mesh.Vertices = append(s.mesh.Vertices, s.old[v])
		s.kept[v] = int32(len(s.mesh.Vertices))
	}
	return s.kept[v] - 1
}

// expect makes the corners of an old face known to add, for the parts it is cut into.
func (s *soup) expect(f [3]int32) {
	for _, v := range f {
		if _, ok := s.cut[s.old[v]]; !ok {
			s.cut[s.old[v]] = -1 - v
		}
	}
}

// add adds a triangle by its points, unless it has no area; it reports whether it did.
func (s *soup) add(t Triangle) bool {
	if t.AreaVector() == (Vec{}) {
		return false
	}
	s.mesh.Faces = append(s.mesh.Faces, [3]int32{s.vertex(t.A), s.vertex(t.B), s.vertex(t.C)})
	return true
}

func (s *soup) vertex(p Vec) int32 {
	i, ok := s.cut[p]
	switch {
	case !ok:
		i = int32(len(s.mesh.Vertices))
		s.mesh.Vertices = append(s.mesh.Vertices, p)
	case i < 0:
		i = s.keepVertex(-1 - i)
	default:
		return i
	}
	s.cut[p] = i
	return i
}
