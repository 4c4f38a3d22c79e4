package mend

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// dropDoubled drops the facets that no neighbour holds and that lie on another facet, corner
// on corner within reach metres: the same facet twice, a little off. It returns how many.
func dropDoubled(m *geometry.Mesh, edges []topology.Edge, reach float64) int {
	loose := looseFaces(edges, len(m.Faces))
	index := newBins(reach)
	for f := range m.Faces {
		index.add(m.Triangle(f).Centroid())
	}
	drop := make([]bool, len(m.Faces))
	dropped := 0
	for f := range m.Faces {
		if !loose[f] {
			continue
		}
		t := m.Triangle(f)
		index.within(t.Centroid(), reach, func(g int32) {
			if int(g) != f && !drop[f] && !drop[g] && (!loose[g] || int(g) < f) && lieOn(t, m.Triangle(int(g)), reach) {
				drop[f] = true
				dropped++
			}
		})
	}
	if dropped > 0 {
		m.Faces = without(m.Faces, drop)
	}
	return dropped
}

// looseFaces marks the facets that share no side with another.
func looseFaces(edges []topology.Edge, faces int) []bool {
	loose := make([]bool, faces)
	for i := range loose {
		loose[i] = true
	}
	for _, e := range edges {
		if !e.IsOpen() {
			for _, u := range e.Uses {
				loose[u.Face] = false
			}
		}
	}
	return loose
}

// lieOn reports whether two facets are one and the same but for corners that are off by at
// most reach, and by well under a facet's side on the mean.
func lieOn(t, u geometry.Triangle, reach float64) bool {
	shortest := math.Min(t.A.Dist(t.B), math.Min(t.B.Dist(t.C), t.C.Dist(t.A)))
	a, b := [3]geometry.Vec{t.A, t.B, t.C}, [3]geometry.Vec{u.A, u.B, u.C}
	for _, order := range [6][3]int{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {0, 2, 1}, {2, 1, 0}, {1, 0, 2}} {
		sum, most := 0.0, 0.0
		for i, k := range order {
			d := a[i].Dist(b[k])
			sum, most = sum+d/3, math.Max(most, d)
		}
		if most <= 2*reach && sum <= math.Min(reach, 0.6*shortest) {
			return true
		}
	}
	return false
}

// without returns the faces that are not marked.
func without(faces [][3]int32, drop []bool) [][3]int32 {
	kept := make([][3]int32, 0, len(faces))
	for i, f := range faces {
		if !drop[i] {
			kept = append(kept, f)
		}
	}
	return kept
}
