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
		drop := make([]bool, len(w.mesh.Faces))
		dropped := 0
		for _, e := range w.edges {
			if !e.IsCrowded() && !e.IsFlipped() {
				continue
			}
			for _, u := range e.Uses {
				if !drop[u.Face] && w.mesh.Triangle(int(u.Face)).Bounds().Size().Norm() < smallHole {
					drop[u.Face] = true
					dropped++
				}
			}
		}
		if dropped == 0 {
			return
		}
		w.report.Flaps += dropped
		w.mesh = compact(geometry.Mesh{Vertices: w.mesh.Vertices, Faces: without(w.mesh.Faces, drop)})
		w.edges = topology.Edges(&w.mesh)
		_, w.edges = turnAlike(&w.mesh, w.edges)
	}
}
