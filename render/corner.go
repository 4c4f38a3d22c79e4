package render

import (
	"math"

	"evenwall/geometry"
)

// cornerLogs spreads the faces' figures to their corners: the mean logarithm over the
// wetted faces that meet there without a crease, so that colours run smoothly across
// facets and still break at edges. floor stands for figures at or below zero.
func cornerLogs(s *Surface, normal []geometry.Vec, floor float64) [][3]float32 {
	const smooth = 0.82 // cosine of 35 degrees between normals: beyond it is a crease
	logs := make([]float64, len(normal))
	for i := range logs {
		logs[i] = math.NaN()
		if s.state(i) == Wetted {
			logs[i] = max(floor, math.Log10(max(s.value(i), 0)))
		}
	}
	first, around := facesAround(&s.Mesh)
	out := make([][3]float32, len(normal))
	for i, f := range s.Mesh.Faces {
		if math.IsNaN(logs[i]) {
			continue
		}
		for k, v := range f {
			sum, count := 0.0, 0.0
			for _, g := range around[first[v]:first[v+1]] {
				if !math.IsNaN(logs[g]) && normal[g].Dot(normal[i]) >= smooth {
					sum, count = sum+logs[g], count+1
				}
			}
			out[i][k] = float32(logs[i])
			if count > 0 {
				out[i][k] = float32(sum / count)
			}
		}
	}
	return out
}

// facesAround lists the faces at each corner: those of corner v are
// around[first[v]:first[v+1]].
func facesAround(m *geometry.Mesh) (first, around []int32) {
	first = make([]int32, len(m.Vertices)+1)
	for _, f := range m.Faces {
		for _, v := range f {
			first[v+1]++
		}
	}
	for v := range m.Vertices {
		first[v+1] += first[v]
	}
	next := append([]int32(nil), first...)
	around = make([]int32, first[len(m.Vertices)])
	for i, f := range m.Faces {
		for _, v := range f {
			around[next[v]] = int32(i)
			next[v]++
		}
	}
	return first, around
}
