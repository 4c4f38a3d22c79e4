package carve

import (
	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// pieces are the facets of one surface, cut up along the lines where it meets the
// other.
type pieces struct {
	faces [][3]int32
	cut   map[[2]int32]bool
}

// on returns the facets that lie on the wanted side of the other surface. Facets that
// hang together without a cut between them lie on the same side; it is found at the
// middle of the largest.
func (p pieces) on(want side, points []geometry.Vec, other *geometry.Mesh) [][3]int32 {
	if want == none {
		return nil
	}
	m := geometry.Mesh{Vertices: points, Faces: p.faces}
	var whole []topology.Edge
	for _, e := range topology.Edges(&m) {
		if !p.cut[[2]int32{e.A, e.B}] {
			whole = append(whole, e)
		}
	}
	part, count := topology.Shells(whole, len(p.faces))
	largest, most := make([]int, count), make([]float64, count)
	for i := range p.faces {
		if a := m.Triangle(i).Area(); a > most[part[i]] {
			largest[part[i]], most[part[i]] = i, a
		}
	}
	keep := make([]bool, count)
	for k := range keep {
		keep[k] = (other.Winding(m.Triangle(largest[k]).Centroid()) > 0.5) == (want == inside)
	}
	var out [][3]int32
	for i, f := range p.faces {
		if keep[part[i]] {
			out = append(out, f)
		}
	}
	return out
}
