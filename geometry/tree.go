package geometry

import (
	"math"
	"sync"
)

// Tree answers distance and ray queries on a mesh: a bounding-volume hierarchy over
// its facets. It reads the corners and faces of the mesh that it was made from, which are not
// to be changed as long as it is used. Queries change nothing, allocate nothing and may run
// side by side. A query on a tree without facets finds face -1 at an infinite distance.
type Tree struct {
	mesh   Mesh
	bounds Box
	nodes  []treeNode
	faces  []int32 // of the mesh, in the order of the leaves
}

// treeNode is a box with either facets (count > 0: faces[first:first+count]) or two
// children: the next node in the slice and nodes[first]. The box is in single precision,
// rounded outward: of a large mesh the nodes are most of the memory.
type treeNode struct {
	low, high    [3]float32
	first, count int32
}

func (n *treeNode) box() Box {
	return Box{
		Vec{float64(n.low[0]), float64(n.low[1]), float64(n.low[2])},
		Vec{float64(n.high[0]), float64(n.high[1]), float64(n.high[2])},
	}
}

// roundedNode returns a node around box.
func roundedNode(box Box, first, count int32) treeNode {
	n := treeNode{first: first, count: count}
	for a := range 3 {
		low, high := box.Min.Axis(a), box.Max.Axis(a)
		n.low[a], n.high[a] = float32(low), float32(high)
		if float64(n.low[a]) > low {
			n.low[a] = math.Nextafter32(n.low[a], float32(math.Inf(-1)))
		}
		if float64(n.high[a]) < high {
			n.high[a] = math.Nextafter32(n.high[a], float32(math.Inf(1)))
		}
	}
	return n
}

const (
	treeLeaf  = 4   // facets at most in a leaf
	treeDepth = 128 // levels at most; the build halves exactly well before
)

// NewTree builds the hierarchy. Facets with a corner that is not finite are left out.
func NewTree(m *Mesh) *Tree {
	items := treeItems(m)
	t := &Tree{mesh: *m, faces: make([]int32, len(items)), bounds: EmptyBox()}
	if len(items) > 0 {
		t.nodes, t.bounds = t.build(make([]treeNode, 0, nodesFor(len(items))), items, 0, 0)
	}
	return t
}

// nodesFor returns about how many nodes a tree over so many facets has.
func nodesFor(facets int) int { return facets - facets/4 + 1 }

// triangle returns a facet by its place in the order of the leaves.
func (t *Tree) triangle(k int32) Triangle { return t.mesh.Triangle(int(t.faces[k])) }

// Len returns the number of facets in the tree.
func (t *Tree) Len() int { return len(t.faces) }

// Bounds returns the smallest box around all facets.
func (t *Tree) Bounds() Box { return t.bounds }

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

// apart is the number of facets from which the two halves of a tree are built side by side.
const apart = 50_000

// build appends the nodes over items, whose facets go to faces[base:], and returns the nodes
// and the box around them.
func (t *Tree) build(nodes []treeNode, items []treeItem, base, depth int) ([]treeNode, Box) {
	if len(items) <= treeLeaf {
		box := EmptyBox()
		for i, item := range items {
			t.faces[base+i] = item.face
			tri := t.mesh.Triangle(int(item.face))
			box = box.Include(tri.A).Include(tri.B).Include(tri.C)
		}
		return append(nodes, roundedNode(box, int32(base), int32(len(items)))), box
	}
	at := len(nodes)
	nodes = append(nodes, treeNode{})
	k := splitItems(items, depth)
	var left, right Box
	var second int
	if depth == 0 && len(items) >= apart {
		nodes, second, left, right = t.buildApart(nodes, items, k)
	} else {
		nodes, left = t.build(nodes, items[:k], base, depth+1)
		second = len(nodes)
		nodes, right = t.build(nodes, items[k:], base+k, depth+1)
	}
	box := left.Union(right)
	nodes[at] = roundedNode(box, int32(second), 0)
	return nodes, box
}

// buildApart builds the two halves below the root side by side; second is where the nodes of
// the other half begin.
func (t *Tree) buildApart(nodes []treeNode, items []treeItem, k int) (all []treeNode, second int, left, right Box) {
	var other []treeNode
	var wait sync.WaitGroup
	wait.Go(func() { other, right = t.build(make([]treeNode, 0, nodesFor(len(items)-k)), items[k:], k, 1) })
	nodes, left = t.build(nodes, items[:k], 0, 1)
	wait.Wait()
	second = len(nodes)
	for _, n := range other {
		if n.count == 0 {
			n.first += int32(second)
		}
		nodes = append(nodes, n)
	}
	return nodes, second, left, right
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
	stack[0] = pending{0, t.nodes[0].dist2(s.p)}
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
		near := pending{at.node + 1, t.nodes[at.node+1].dist2(s.p)}
		far := pending{node.first, t.nodes[node.first].dist2(s.p)}
		if far.dist2 < near.dist2 {
			near, far = far, near
		}
		stack[n], stack[n+1] = far, near
		n += 2
	}
}

func (s *pointSearch) leaf(t *Tree, node *treeNode) {
	for k := node.first; k < node.first+node.count; k++ {
		q := t.triangle(k).closestTo(s.p)
		d := q.Sub(s.p)
		if d2 := d.Dot(d); d2 < s.dist2 {
			s.point, s.face, s.dist2 = q, k, d2
		}
	}
}

// dist2 is Box.Dist2 for the inner loop.
func (n *treeNode) dist2(p Vec) float64 {
	dx := max(0, float64(n.low[0])-p.X, p.X-float64(n.high[0]))
	dy := max(0, float64(n.low[1])-p.Y, p.Y-float64(n.high[1]))
	dz := max(0, float64(n.low[2])-p.Z, p.Z-float64(n.high[2]))
	return dx*dx + dy*dy + dz*dz
}
