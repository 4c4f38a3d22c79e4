package mend

import (
	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// spotRounds is how often bad spots are cut out.
const spotRounds = 5

// cutSpots cuts out the small facets at sides where the surface branches or its facets
// cannot agree which side is out, as where corners were off by a facet's size: what is
// left are small holes. Turning facets alike comes before and after.
func (w *work) cutSpots() {
	for range spotRounds {
		dropped := cutSpots(&w.mesh, w.edges, w.reach)
		if dropped == 0 {
			return
		}
		w.report.Flaps += dropped
		_, w.edges = turnAlike(&w.mesh, topology.Edges(&w.mesh))
	}
}

// isSpeck reports whether a facet is small, or a sliver no higher than two cracks are wide.
func isSpeck(t geometry.Triangle, reach float64) bool {
	longest := max(t.A.Dist(t.B), t.B.Dist(t.C), t.C.Dist(t.A))
	return longest < smallHole || t.Area() < reach*longest
}

// cutSpots cuts m once and returns how many facets it took out.
func cutSpots(m *geometry.Mesh, edges []topology.Edge, reach float64) int {
	drop := make([]bool, len(m.Faces))
	dropped := 0
	for _, e := range edges {
		if !e.IsCrowded() && !e.IsFlipped() {
			continue
		}
		for _, u := range e.Uses {
			if !drop[u.Face] && isSpeck(m.Triangle(int(u.Face)), reach) {
				drop[u.Face] = true
				dropped++
			}
		}
	}
	if dropped > 0 {
		*m = compact(geometry.Mesh{Vertices: m.Vertices, Faces: without(m.Faces, drop)})
	}
	return dropped
}
