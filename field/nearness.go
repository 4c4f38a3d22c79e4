package field

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// nearness holds, for the cells close to the wall, where the wall is nearest.
type nearness struct {
	steel  *Steel
	h      float64        // spacing, m
	normal []geometry.Vec // of each facet
	wet    []int32        // number + 1 of the liquid cell with a linear index
	at     []nearWall     // by cell number; face < 0: farther than wallReach
	sheets *sheets
	behind []bool // by cell number: a sheet cuts one of the cell's links to liquid
}

// nearWall is the nearest wall to a cell.
type nearWall struct {
	dist  float32 // m
	face  int32
	aside bool // the wall ends there: the nearest point is on its edge, not straight ahead
}

// straight is the least cosine between the wall's normal and the way to its nearest point
// for a cell to have wall before it: less, and it looks past a rim or an edge.
const straight = 0.8

// beyondEdge is by how many spacings a cell's nearest wall must be farther than a patch's plane for
// that plane to end before it: less may be rough wall.
const beyondEdge = 0.3

// newNearness searches outward from the cells that wall links start at: a cell's nearest
// wall is near its neighbours'.
func newNearness(q *lattice.Liquid, steel *Steel, tree *geometry.Tree) *nearness {
	n := &nearness{steel: steel, h: q.Lattice.H, sheets: sheetsOf(steel), wet: make([]int32, q.Lattice.Cells()),
		at: make([]nearWall, q.Len()), behind: make([]bool, q.Len()), normal: make([]geometry.Vec, len(steel.Mesh.Faces))}
	for i := range n.normal {
		n.normal[i] = steel.Mesh.Triangle(i).Normal()
	}
	for cell, key := range q.Keys {
		n.wet[key] = int32(cell) + 1
		n.at[cell].face = -1
	}
	front := n.rims(q)
	limit := wallReach * q.Lattice.H
	for layer := 0; len(front) > 0 && layer < 5; layer++ {
		found := make([]nearWall, len(front))
		const block = 1024
		spread((len(front)+block-1)/block, func(b int) {
			for i := b * block; i < min(len(front), (b+1)*block); i++ {
				at := q.Point(front[i])
				foot, face, d := tree.ClosestWithin(at, limit)
				found[i] = nearWall{dist: float32(d), face: face}
				if face < 0 || d > limit {
					found[i].face = -2
					continue
				}
				found[i].aside = math.Abs(foot.Sub(at).Dot(n.normal[face])) < straight*d
			}
		})
		for i, cell := range front {
			n.at[cell] = found[i]
		}
		front = n.next(q, front)
	}
	for cell := range n.at {
		if n.at[cell].face == -2 {
			n.at[cell].face = -1
		}
	}
	return n
}

// rims returns the cells that have a wall link, each once, and marks those beside a sheet.
func (n *nearness) rims(q *lattice.Liquid) []int32 {
	var front []int32
	listed := make([]bool, q.Len())
	for i := range q.Walls {
		k := &q.Walls[i]
		if !listed[k.Cell] {
			listed[k.Cell] = true
			front = append(front, k.Cell)
		}
		step := q.Lattice.Step(int(k.Axis))
		if !k.Ahead {
			step = -step
		}
		if n.wet[q.Keys[k.Cell]+step] > 0 {
			n.behind[k.Cell] = true
		}
	}
	return front
}

// next returns the cells beside the front that have not been looked at.
func (n *nearness) next(q *lattice.Liquid, front []int32) []int32 {
	var out []int32
	for _, cell := range front {
		if n.at[cell].face < 0 {
			continue
		}
		key := q.Keys[cell]
		for axis := range 3 {
			step := q.Lattice.Step(axis)
			for _, other := range [2]int32{n.wet[key+step] - 1, n.wet[key-step] - 1} {
				if other >= 0 && n.at[other].face == -1 {
					n.at[other].face = -3 // queued
					out = append(out, other)
				}
			}
		}
	}
	return out
}

// distance returns how far a cell is from the wall that a patch is part of, m, and false
// when the cell is not on the patch's side: its true distance where the nearest wall faces
// the way the patch does, else the distance to the patch's plane. Where all wall is farther than
// that plane the patch's wall does not go on so far: there is an edge that liquid goes round.
func (n *nearness) distance(cell int32, at geometry.Vec, p *Patch) (float64, bool) {
	plane := p.Centre.Sub(at).Dot(p.Normal)
	if plane <= 0 {
		return 0, false
	}
	near := n.at[cell]
	if near.face < 0 {
		return plane, true
	}
	if near.aside {
		return 0, false
	}
	cos := n.normal[near.face].Dot(p.Normal)
	if n.steel.Outer[near.face] {
		cos = math.Abs(cos)
	}
	if cos >= turned {
		return math.Max(float64(near.dist), 1e-6), true
	}
	if float64(near.dist) > plane+beyondEdge*n.h {
		return 0, false
	}
	return plane, true
}
