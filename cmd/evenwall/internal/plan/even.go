package plan

import (
	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// neighbour is a facet across an edge, and whether the two agree which side is out.
type neighbour struct {
	face   int32
	agrees bool
}

// turnedEvenly returns m with the facets of each connected piece turned to agree, as most
// of the piece's area is turned. Pieces are joined by edges of exactly two facets.
func turnedEvenly(m geometry.Mesh) geometry.Mesh {
	beside := make([][]neighbour, len(m.Faces))
	for _, e := range topology.Edges(&m) {
		if len(e.Uses) == 2 {
			a, b := e.Uses[0].Face, e.Uses[1].Face
			beside[a] = append(beside[a], neighbour{b, !e.IsFlipped()})
			beside[b] = append(beside[b], neighbour{a, !e.IsFlipped()})
		}
	}
	out := geometry.Mesh{Vertices: m.Vertices, Faces: append([][3]int32(nil), m.Faces...)}
	side := make([]int8, len(m.Faces)) // 1 as the piece's first facet, -1 against it, 0 not seen
	for first := range m.Faces {
		if side[first] != 0 {
			continue
		}
		side[first] = 1
		against := int8(-1)
		piece, balance := gatherPiece(&m, int32(first), beside, side)
		if balance < 0 {
			against = 1
		}
		for _, f := range piece {
			if side[f] == against {
				out.Faces[f][1], out.Faces[f][2] = out.Faces[f][2], out.Faces[f][1]
			}
		}
	}
	return out
}

// gatherPiece gives every facet that hangs together with the first its side, and returns
// them and how much more area is turned as the first than against it, m².
func gatherPiece(m *geometry.Mesh, first int32, beside [][]neighbour, side []int8) (piece []int32, balance float64) {
	piece = []int32{first}
	for k := 0; k < len(piece); k++ {
		f := piece[k]
		balance += float64(side[f]) * m.Triangle(int(f)).Area()
		for _, n := range beside[f] {
			if side[n.face] != 0 {
				continue
			}
			side[n.face] = -side[f]
			if n.agrees {
				side[n.face] = side[f]
			}
			piece = append(piece, n.face)
		}
	}
	return piece, balance
}
