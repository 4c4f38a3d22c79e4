package mend

import (
	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// piece is facets that hang together by their sides.
type piece struct {
	faces  []int32
	area   float64 // m²
	bounds geometry.Box
	closed bool // no side of it is open
}

// piecesOf parts m into pieces, in the order of their first facets.
func piecesOf(m *geometry.Mesh, edges []topology.Edge) []piece {
	of, count := topology.Shells(edges, len(m.Faces))
	out := make([]piece, count)
	for i := range out {
		out[i].bounds, out[i].closed = geometry.EmptyBox(), true
	}
	for f := range m.Faces {
		p, t := &out[of[f]], m.Triangle(f)
		p.faces = append(p.faces, int32(f))
		p.area += t.Area()
		p.bounds = p.bounds.Include(t.A).Include(t.B).Include(t.C)
	}
	for _, e := range edges {
		if e.IsOpen() {
			out[of[e.Uses[0].Face]].closed = false
		}
	}
	return out
}

// mesh returns the piece on its own.
func (p *piece) mesh(m *geometry.Mesh) geometry.Mesh {
	out := geometry.Mesh{Vertices: m.Vertices}
	for _, f := range p.faces {
		out.Faces = append(out.Faces, m.Faces[f])
	}
	return compact(out)
}

// largest returns the piece with the most area.
func largest(pieces []piece) int {
	best := 0
	for i := range pieces {
		if pieces[i].area > pieces[best].area {
			best = i
		}
	}
	return best
}

// keep returns the mesh of the pieces that are wanted.
func keep(m *geometry.Mesh, pieces []piece, wanted func(i int) bool) geometry.Mesh {
	drop := make([]bool, len(m.Faces))
	for i := range pieces {
		if !wanted(i) {
			for _, f := range pieces[i].faces {
				drop[f] = true
			}
		}
	}
	return compact(geometry.Mesh{Vertices: m.Vertices, Faces: without(m.Faces, drop)})
}
