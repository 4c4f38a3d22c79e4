package mend

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// turnAlike turns facets so that neighbours agree which side is out, in each piece as most
// of its area is turned, and returns how many it turned and the new edges. Smooth
// neighbours are heard first, so that a few wrong ones cannot turn a wall about. Edges of
// more than two facets say nothing.
func turnAlike(m *geometry.Mesh, edges []topology.Edge) (int, []topology.Edge) {
	if topology.FaultsOf(edges).Flipped == 0 {
		return 0, edges
	}
	s := newSenses(len(m.Faces))
	for _, list := range bySmoothness(m, edges) {
		for _, e := range list {
			s.join(e.Uses[0].Face, e.Uses[1].Face, e.IsFlipped())
		}
	}
	balance := make([]float64, len(m.Faces)) // by root: area turned as it less area against it
	for f := range m.Faces {
		root, against := s.find(int32(f))
		area := m.Triangle(f).Area()
		if against {
			area = -area
		}
		balance[root] += area
	}
	faces, turned := append([][3]int32(nil), m.Faces...), 0
	for f := range faces {
		if root, against := s.find(int32(f)); against == (balance[root] >= 0) {
			faces[f][1], faces[f][2] = faces[f][2], faces[f][1]
			turned++
		}
	}
	m.Faces = faces
	return turned, topology.Edges(m)
}

// bySmoothness files the edges of two facets by how little their planes differ.
func bySmoothness(m *geometry.Mesh, edges []topology.Edge) [8][]topology.Edge {
	normals := make([]geometry.Vec, len(m.Faces))
	for f := range normals {
		normals[f] = m.Triangle(f).Normal()
	}
	var lists [8][]topology.Edge
	for _, e := range edges {
		if len(e.Uses) != 2 {
			continue
		}
		smooth := math.Abs(normals[e.Uses[0].Face].Dot(normals[e.Uses[1].Face]))
		k := min(7, max(0, int(8*(1-smooth))))
		lists[k] = append(lists[k], e)
	}
	return lists
}

// senses groups facets and knows of each whether it is turned as its group's root.
type senses struct {
	parent  []int32
	against []bool // turned against the parent
}

func newSenses(n int) *senses {
	s := &senses{parent: make([]int32, n), against: make([]bool, n)}
	for i := range s.parent {
		s.parent[i] = int32(i)
	}
	return s
}

func (s *senses) find(f int32) (root int32, against bool) {
	for s.parent[f] != f {
		up := s.parent[f]
		if s.parent[up] != up { // halve the path
			s.against[f] = s.against[f] != s.against[up]
			s.parent[f] = s.parent[up]
			continue
		}
		against = against != s.against[f]
		f = up
	}
	return f, against
}

// join puts f and g in one group, unless they are already, turned against each other or not.
func (s *senses) join(f, g int32, against bool) {
	a, x := s.find(f)
	b, y := s.find(g)
	if a == b {
		return
	}
	if a > b {
		a, b = b, a
	}
	s.parent[b] = a
	s.against[b] = x != y != against
}
