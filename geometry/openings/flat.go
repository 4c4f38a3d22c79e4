package openings

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Facets belong to one flat wall when their normals differ from its first facet's by at
// most flatAngle and their corners lie within flatShare of the surface's size of its plane.
const (
	flatAngle = 0.3  // degrees
	flatShare = 1e-4 // of the bounds' diagonal
)

// region is a flat wall: connected facets in one plane.
type region struct {
	faces  []int32
	normal geometry.Vec // unit, outward
	area   float64      // m²
}

// regions says for each facet which flat wall it belongs to.
type regions struct {
	of   []int32
	list []region
}

// flatRegions parts the surface into flat walls. On curved wall each facet or two is a
// region of its own.
func flatRegions(m *geometry.Mesh, edges []topology.Edge) regions {
	next := neighbours(len(m.Faces), edges)
	r := regions{of: make([]int32, len(m.Faces))}
	for f := range r.of {
		r.of[f] = -1
	}
	tolerance := flatShare * m.Bounds().Size().Norm()
	for f := range m.Faces {
		if r.of[f] < 0 {
			r.grow(m, next, int32(f), tolerance)
		}
	}
	return r
}

// neighbours lists the facets across each facet's sides, -1 for none; crowded edges
// part their facets.
func neighbours(faces int, edges []topology.Edge) [][3]int32 {
	next := make([][3]int32, faces)
	used := make([]int8, faces)
	for f := range next {
		next[f] = [3]int32{-1, -1, -1}
	}
	link := func(a, b int32) {
		next[a][used[a]] = b
		used[a]++
	}
	for _, e := range edges {
		if len(e.Uses) == 2 {
			link(e.Uses[0].Face, e.Uses[1].Face)
			link(e.Uses[1].Face, e.Uses[0].Face)
		}
	}
	return next
}

func (r *regions) grow(m *geometry.Mesh, next [][3]int32, seed int32, tolerance float64) {
	id := int32(len(r.list))
	first := m.Triangle(int(seed))
	reg := region{normal: first.Normal(), faces: []int32{seed}}
	r.of[seed] = id
	for i := 0; i < len(reg.faces); i++ {
		reg.area += m.Triangle(int(reg.faces[i])).Area()
		for _, f := range next[reg.faces[i]] {
			if f >= 0 && r.of[f] < 0 && isCoplanar(m.Triangle(int(f)), first.A, reg.normal, tolerance) {
				r.of[f] = id
				reg.faces = append(reg.faces, f)
			}
		}
	}
	r.list = append(r.list, reg)
}

func isCoplanar(t geometry.Triangle, origin, normal geometry.Vec, tolerance float64) bool {
	if t.Normal().Dot(normal) < math.Cos(flatAngle*math.Pi/180) {
		return false
	}
	for _, p := range [...]geometry.Vec{t.A, t.B, t.C} {
		if math.Abs(p.Sub(origin).Dot(normal)) > tolerance {
			return false
		}
	}
	return true
}
