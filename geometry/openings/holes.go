package openings

import (
	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// holes returns the open rims of m that are nearly circles. A rim need not be flat: a
// filler in a curved wall has a rim that follows the wall.
func holes(m *geometry.Mesh, edges []topology.Edge) []Ring {
	middle := m.Bounds().Centre()
	var out []Ring
	for _, loop := range topology.Loops(edges) {
		points := pick(m, loop.Vertices)
		if len(points) < holePoints {
			continue
		}
		c, ok := fitCircle(points)
		if !ok || !c.isRound(holeStray) {
			continue
		}
		// Facets run clockwise round a hole seen from outside. Where they do not agree
		// on it, outward is away from the middle.
		axis := c.normal.Scale(-1)
		if agree := float64(loop.Along) / float64(len(points)); agree < 0.8 && axis.Dot(c.centre.Sub(middle)) < 0 {
			axis = c.normal
		}
		out = append(out, Ring{Hole, c.centre, axis, 2 * c.radius, c.rms, len(points)})
	}
	return out
}

func pick(m *geometry.Mesh, vertices []int32) []geometry.Vec {
	out := make([]geometry.Vec, len(vertices))
	for i, v := range vertices {
		out[i] = m.Vertices[v]
	}
	return out
}
