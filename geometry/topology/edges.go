// Package topology says how the facets of a mesh hang together: which sides they
// share, which pieces they form, and where the surface is open.
package topology

import (
	"cmp"
	"slices"

	"evenwall/geometry"
)

// Use is one facet's side: the facet and whether it runs along the side from the
// lower to the higher vertex number.
type Use struct {
	Face    int32
	Forward bool
}

// Edge is a side between the vertices A < B, with every facet that has it.
type Edge struct {
	A, B int32
	Uses []Use // ordered by facet
}

// IsOpen reports whether only one facet has the edge.
func (e Edge) IsOpen() bool { return len(e.Uses) == 1 }

// IsCrowded reports whether more than two facets meet in the edge.
func (e Edge) IsCrowded() bool { return len(e.Uses) > 2 }

// IsFlipped reports whether two facets share the edge and run along it in the same
// sense, so that one of them shows its inner face.
func (e Edge) IsFlipped() bool { return len(e.Uses) == 2 && e.Uses[0].Forward == e.Uses[1].Forward }

// half is one side of one facet, filed under its lower vertex.
type half struct {
	high int32
	use  Use
}

// Edges returns every edge of m once, ordered by A, then B. Sides whose two ends are
// the same vertex are left out. The work grows with the number of facets.
func Edges(m *geometry.Mesh) []Edge {
	halves, first := fileSides(m)
	uses := make([]Use, len(halves))
	for i, h := range halves {
		uses[i] = h.use
	}
	edges := make([]Edge, 0, len(halves)/2+1)
	for a := range len(first) - 1 {
		for i := first[a]; i < first[a+1]; {
			k := i + 1
			for k < first[a+1] && halves[k].high == halves[i].high {
				k++
			}
			edges = append(edges, Edge{int32(a), halves[i].high, uses[i:k:k]})
			i = k
		}
	}
	return edges
}

// fileSides lists all sides grouped by their lower vertex, each group ordered by the
// higher vertex and the facet. first[a] is where the group of vertex a starts.
func fileSides(m *geometry.Mesh) (halves []half, first []int32) {
	first = make([]int32, len(m.Vertices)+1)
	eachSide(m, func(low, _ int32, _ Use) { first[low+1]++ })
	for a := range len(m.Vertices) {
		first[a+1] += first[a]
	}
	halves = make([]half, first[len(m.Vertices)])
	next := slices.Clone(first)
	eachSide(m, func(low, high int32, use Use) {
		halves[next[low]] = half{high, use}
		next[low]++
	})
	for a := range len(m.Vertices) {
		slices.SortFunc(halves[first[a]:first[a+1]], func(p, q half) int {
			if p.high != q.high {
				return cmp.Compare(p.high, q.high)
			}
			return cmp.Compare(p.use.Face, q.use.Face)
		})
	}
	return halves, first
}

func eachSide(m *geometry.Mesh, do func(low, high int32, use Use)) {
	for f, face := range m.Faces {
		for k := range 3 {
			from, to := face[k], face[(k+1)%3]
			switch {
			case from < to:
				do(from, to, Use{int32(f), true})
			case from > to:
				do(to, from, Use{int32(f), false})
			}
		}
	}
}

// Faults counts what keeps a surface from being closed, two-sided and evenly turned.
type Faults struct {
	Open    int // edges with one facet
	Crowded int // edges with more than two
	Flipped int // edges whose two facets do not agree which side is out
}

// FaultsOf counts the faults among edges.
func FaultsOf(edges []Edge) Faults {
	var f Faults
	for _, e := range edges {
		switch {
		case e.IsOpen():
			f.Open++
		case e.IsCrowded():
			f.Crowded++
		case e.IsFlipped():
			f.Flipped++
		}
	}
	return f
}
