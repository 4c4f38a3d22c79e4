package table

import (
	"evenwall/field"
	"evenwall/geometry"
)

// node is a point of the coarse lattice: the centre of a liquid cell.
type node struct {
	cell int32
	at   geometry.Vec
}

// every is how many cells apart nodes are.
const every = 2

// grid finds nodes by place. Along z they are counted down from the liquid's surface, just
// under which the first layer lies; above it stand the nodes' mirror images.
type grid struct {
	nodes []node
	index map[[3]int]int32
	first geometry.Vec // where node (0, 0, 0) would be; z of the first layer
	step  float64      // m
	level float64      // m
}

// newGrid lists the nodes at least clear metres from steel and from any wall link.
func newGrid(f *field.Filled, clear float64) *grid {
	q := f.Liquid
	l := &q.Lattice
	top := l.At(geometry.V(0, 0, f.Level-l.H/2)).Z
	g := &grid{index: map[[3]int]int32{}, step: every * l.H, level: f.Level}
	g.first = l.Origin.WithAxis(2, f.Level-l.H/2)
	need := max(clear, 1.001*l.H)
	for n := range int32(q.Len()) {
		i, j, k := l.Coordinates(q.Keys[n])
		down := int(top+0.5) - k
		if i%every != 0 || j%every != 0 || down%every != 0 {
			continue
		}
		at := q.Point(n)
		if _, face, d := f.Tree.ClosestWithin(at, need); face >= 0 && d < need {
			continue
		}
		g.index[[3]int{i / every, j / every, down / every}] = int32(len(g.nodes))
		g.nodes = append(g.nodes, node{n, at})
	}
	return g
}

// place is a node, or its image, as seen from somewhere.
type place struct {
	node int32
	at   geometry.Vec
}

// find returns the node or image at (i, j, k); k < 0 is above the surface.
func (g *grid) find(i, j, k int) (place, bool) {
	down := k
	if k < 0 {
		down = -1 - k
	}
	n, ok := g.index[[3]int{i, j, down}]
	if !ok {
		return place{}, false
	}
	p := place{n, g.nodes[n].at}
	if k < 0 {
		p.at.Z = 2*g.level - p.at.Z
	}
	return p, true
}

// layer returns the height of layer k, m.
func (g *grid) layer(k int) float64 {
	if k < 0 {
		return 2*g.level - g.layer(-1-k)
	}
	return g.first.Z - float64(k)*g.step
}
