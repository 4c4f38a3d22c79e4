package carve

import (
	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// mote is the length below which an edge is the nudge's doing and no part of the shape, m.
const mote = 1e-6

// tidy shrinks edges below a mote to points, as long as that leaves the surface as
// sound as it was, and drops corners that no facet has.
func tidy(m geometry.Mesh) geometry.Mesh {
	edges := topology.Edges(&m)
	target := make([]int32, len(m.Vertices))
	for i := range target {
		target[i] = int32(i)
	}
	root := func(v int32) int32 {
		for target[v] != v {
			v = target[v]
		}
		return v
	}
	for _, e := range edges {
		if a, b := root(e.A), root(e.B); a != b && m.Vertices[a].Dist(m.Vertices[b]) < mote {
			target[max(a, b)] = min(a, b)
		}
	}
	shrunk := geometry.Mesh{Vertices: m.Vertices}
	for _, f := range m.Faces {
		f = [3]int32{root(f[0]), root(f[1]), root(f[2])}
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			shrunk.Faces = append(shrunk.Faces, f)
		}
	}
	if topology.FaultsOf(topology.Edges(&shrunk)) == topology.FaultsOf(edges) {
		m = shrunk
	}
	return compact(m)
}

func compact(m geometry.Mesh) geometry.Mesh {
	number := make([]int32, len(m.Vertices))
	out := geometry.Mesh{Faces: make([][3]int32, len(m.Faces))}
	for i, f := range m.Faces {
		for k, v := range f {
			if number[v] == 0 {
				out.Vertices = append(out.Vertices, m.Vertices[v])
				number[v] = int32(len(out.Vertices))
			}
			out.Faces[i][k] = number[v] - 1
		}
	}
	return out
}
