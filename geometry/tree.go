package geometry

import "math"

// Tree answers distance and ray queries on a mesh: a bounding-volume hierarchy over
// its facets. It keeps its own copy of the corners, so the mesh may be changed
// afterwards; face numbers are those of the mesh it was made from. Queries change
// nothing, allocate nothing and may run side by side. A query on a tree without
// facets finds face -1 at an infinite distance.
type Tree struct {
	nodes     []treeNode
	triangles []Triangle // in the order of the leaves
	faces     []int32    // face of the mesh for each of triangles
}

// treeNode is a box with either facets (count > 0: triangles[first:first+count]) or two
// children: the next node in the slice and nodes[first].
type treeNode struct {
	box          Box
	first, count int32
}

const (
	treeLeaf  = 4   // facets at most in a leaf
	treeDepth = 128 // levels at most; the build halves exactly well before
)

// NewTree builds the hierarchy. Facets with a corner that is not finite are left out.
func NewTree(m *Mesh) *Tree {
	items := treeItems(m)
	t := &Tree{
		nodes:     make([]treeNode, 0, len(items)),
		triangles: make([]Triangle, len(items)),
		faces:     make([]int32, len(items)),
	}
	if len(items) > 0 {
		t.build(m, items, 0, 0)
	}
	return t
}

// Len returns the number of facets in the tree.
func (t *Tree) Len() int { return len(t.faces) }

// Bounds returns the smallest box around all facets.
func (t *Tree) Bounds() Box {
	if len(t.nodes) == 0 {
		return EmptyBox()
	}
	return t.nodes[0].box
}

// treeItem is a facet while it is being sorted; single precision is enough for that.
type treeItem struct {
	at   [3]float32 // centroid
	face int32
}

func treeItems(m *Mesh) []treeItem {
	items := make([]treeItem, 0, len(m.Faces))
	for i := range m.Faces {
		if c := m.Triangle(i).Centroid(); c.IsFinite() {
			items = append(items, treeItem{[3]float32{float32(c.X), float32(c.Y), float32(c.Z)}, int32(i)})
		}
	}
	return items
}

// build appends the node over items, whose facets go to triangles[base:], and returns its box.
func (t *Tree) build(m *Mesh, items []treeItem, base, depth int) Box {
	at := len(t.nodes)
	t.nodes = append(t.nodes, treeNode{})
	box := EmptyBox()
	if len(items) <= treeLeaf {
		for i, item := range items {
			tri := m.Triangle(int(item.face))
			t.triangles[base+i], t.faces[base+i] = tri, item.face
			box = box.Include(tri.A).Include(tri.B).Include(tri.C)
		}
		t.nodes[at] = treeNode{box, int32(base), int32(len(items))}
		return box
	}
	k := splitItems(items, depth)
	box = t.build(m, items[:k], base, depth+1)
	right := len(t.nodes)
	box = box.Union(t.build(m, items[k:], base+k, depth+1))
	t.nodes[at] = treeNode{box, int32(right), 0}
	return box
}

// splitItems sorts items into two groups about the middle of their longest extent and
// returns the size of the first; about the median where the middle would be lopsided
// or the tree is deep already.
func splitItems(items []treeItem, depth int) int {
	axis, middle := longestAxis(items)
	k := partition(items, axis, middle)
	if least := len(items) / 8; depth > 48 || k <= least || k >= len(items)-least {
		k = len(items) / 2
		selectItem(items, axis, k)
	}
	return k
}

func longestAxis(items []treeItem) (axis int, middle float32) {
	low, high := items[0].at, items[0].at
	for i := range items {
		for a, v := range items[i].at {
			low[a], high[a] = min(low[a], v), max(high[a], v)
		}
	}
	for a := range 3 {
		if high[a]-low[a] > high[axis]-low[axis] {
			axis = a
		}
	}
	return axis, low[axis]/2 + high[axis]/2
}

// partition moves the items below pivot to the front and returns how many there are.
func partition(items []treeItem, axis int, pivot float32) int {
	k := 0
	for i := range items {
		if items[i].at[axis] < pivot {
			items[i], items[k] = items[k], items[i]
			k++
		}
	}
	return k
}

// selectItem moves the k smallest items along axis to the front (Hoare 1961).
func selectItem(items []treeItem, axis, k int) {
	low, high := 0, len(items)-1
	for low < high {
		pivot := items[(low+high)/2].at[axis]
		i, j := low, high
		for i <= j {
			for items[i].at[axis] < pivot {
				i++
			}
			for items[j].at[axis] > pivot {
				j--
			}
			if i <= j {
				items[i], items[j] = items[j], items[i]
				i++
				j--
			}
		}
		if k <= j {
			high = j
		} else if k >= i {
			low = i
		} else {
			return
		}
	}
}

// Closest returns the point of the mesh nearest to p, its face and its distance, m.
func (t *Tree) Closest(p Vec) (point Vec, face int32, dist float64) {
	return t.ClosestWithin(p, math.Inf(1))
}

// ClosestWithin returns the point of the mesh nearest to p if it is nearer than bound
// metres; otherwise face is -1 and dist is bound. A small bound makes it quick.
func (t *Tree) ClosestWithin(p Vec, bound float64) (point Vec, face int32, dist float64) {
	best := pointSearch{p: p, face: -1, dist2: bound * bound}
	best.descend(t)
	if best.face < 0 {
		return p, -1, bound
	}
	return best.point, t.faces[best.face], math.Sqrt(best.dist2)
}

// pointSearch is the nearest point found so far; face counts in leaf order.
type pointSearch struct {
	p, point Vec
	face     int32
	dist2    float64
}

// pending is a node still to be looked at and the square of its least distance.
type pending struct {
	node  int32
	dist2 float64
}

func (s *pointSearch) descend(t *Tree) {
	var stack [treeDepth]pending
	if len(t.nodes) == 0 {
		return
	}
	stack[0] = pending{0, dist2(&t.nodes[0].box, s.p)}
	for n := 1; n > 0; {
		n--
		at, node := stack[n], &t.nodes[stack[n].node]
		if at.dist2 >= s.dist2 {
			continue
		}
		if node.count > 0 {
			s.leaf(t, node)
			continue
		}
		near := pending{at.node + 1, dist2(&t.nodes[at.node+1].box, s.p)}
		far := pending{node.first, dist2(&t.nodes[node.first].box, s.p)}
		if far.dist2 < near.dist2 {
			near, far = far, near
		}
		stack[n], stack[n+1] = far, near
		n += 2
	}
}

func (s *pointSearch) leaf(t *Tree, node *treeNode) {
	for k := node.first; k < node.first+node.count; k++ {
		q := t.triangles[k].closestTo(s.p)
		d := q.Sub(s.p)
		if d2 := d.Dot(d); d2 < s.dist2 {
			s.point, s.face, s.dist2 = q, k, d2
		}
	}
}

// dist2 is Box.Dist2 for the inner loop.
func dist2(b *Box, p Vec) float64 {
	dx := max(0, b.Min.X-p.X, p.X-b.Max.X)
	dy := max(0, b.Min.Y-p.Y, p.Y-b.Max.Y)
	dz := max(0, b.Min.Z-p.Z, p.Z-b.Max.Z)
	return dx*dx + dy*dy + dz*dz
}
