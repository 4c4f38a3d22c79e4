package openings

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// lids returns the flat walls that are whole discs with a crisp edge.
func lids(m *geometry.Mesh, edges []topology.Edge, flat regions) []Ring {
	rims := rimEdges(edges, flat)
	var out []Ring
	for id, reg := range flat.list {
		if diameter := 2 * math.Sqrt(reg.area/math.Pi); !fits(diameter) || len(rims[int32(id)]) < lidPoints {
			continue
		}
		if ring, ok := lid(m, reg, rims[int32(id)]); ok {
			out = append(out, ring)
		}
	}
	return out
}

// rimEdges lists for each flat wall the edges that only one of its facets has.
func rimEdges(edges []topology.Edge, flat regions) map[int32][]topology.Edge {
	rims := map[int32][]topology.Edge{}
	for _, e := range edges {
		if len(e.Uses) != 2 {
			continue
		}
		a, b := flat.of[e.Uses[0].Face], flat.of[e.Uses[1].Face]
		if a == b {
			continue
		}
		for i, id := range [...]int32{a, b} {
			if i == 1 {
				e.Uses = []topology.Use{e.Uses[1], e.Uses[0]}
			}
			if len(flat.list[id].faces) >= lidPoints-2 {
				rims[id] = append(rims[id], e)
			}
		}
	}
	return rims
}

// lid returns the ring of a flat wall if it is one; the first use of each rim edge is
// the wall's own.
func lid(m *geometry.Mesh, reg region, rim []topology.Edge) (Ring, bool) {
	length, sharp := 0.0, 0.0
	own := make([]topology.Edge, len(rim))
	for i, e := range rim {
		side := m.Vertices[e.A].Dist(m.Vertices[e.B])
		length += side
		if m.Triangle(int(e.Uses[1].Face)).Normal().Dot(reg.normal) < math.Cos(crisp*math.Pi/180) {
			sharp += side
		}
		own[i] = topology.Edge{A: e.A, B: e.B, Uses: e.Uses[:1]}
	}
	if sharp < crispShare*length {
		return Ring{}, false
	}
	for _, loop := range topology.Loops(own) {
		c, ok := fitCircle(pick(m, loop.Vertices))
		if !ok || len(loop.Vertices) < lidPoints || !c.isRound(lidStray) {
			continue
		}
		if reg.area >= fullDisc*math.Pi*c.radius*c.radius {
			return Ring{Lid, c.centre, reg.normal, 2 * c.radius, c.rms, len(loop.Vertices)}, true
		}
	}
	return Ring{}, false
}
