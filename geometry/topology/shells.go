package topology

// Shells numbers the connected pieces of a surface of faces facets: facets that share
// an edge belong to one piece. shell[f] is the piece of facet f; pieces are numbered in
// the order of their first facet.
func Shells(edges []Edge, faces int) (shell []int32, count int) {
	parent := make([]int32, faces)
	for i := range parent {
		parent[i] = int32(i)
	}
	for _, e := range edges {
		for _, u := range e.Uses[1:] {
			join(parent, e.Uses[0].Face, u.Face)
		}
	}
	shell = make([]int32, faces)
	for f := range faces {
		if root := find(parent, int32(f)); root == int32(f) {
			shell[f] = int32(count)
			count++
		} else {
			shell[f] = shell[root]
		}
	}
	return shell, count
}

// find returns the lowest facet of f's piece, halving the path on the way.
func find(parent []int32, f int32) int32 {
	for parent[f] != f {
		parent[f] = parent[parent[f]]
		f = parent[f]
	}
	return f
}

// join makes the lower of the two roots the root of both, so a root is always its
// piece's first facet.
func join(parent []int32, a, b int32) {
	a, b = find(parent, a), find(parent, b)
	if a < b {
		parent[b] = a
	} else {
		parent[a] = b
	}
}
