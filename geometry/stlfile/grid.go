package stlfile

import (
	"math"
	"math/bits"

	"evenwall/geometry"
)

// key is what points are filed under: three numbers.
type key [3]int64

// table files numbered points under keys, several under one if need be. It never holds
// more than the entries it was made for, so its slots never grow. Looking up corners is
// what reading a file waits for.
type table struct {
	slots []int32 // the number of the last point filed, plus 1; 0 is empty
	keys  []key   // by point
	next  []int32 // by point: the point filed before under the same key, or -1
	shift int
}

func newTable(entries int) *table {
	size := bits.Len(uint(entries + entries/2 + 1))
	return &table{slots: make([]int32, 1<<size), shift: 64 - size}
}

// slot returns the slot of k, or the empty one where it belongs.
func (t *table) slot(k key) int {
	h := uint64(k[0])*0x9e3779b97f4a7c15 ^ bits.RotateLeft64(uint64(k[1])*0xc2b2ae3d27d4eb4f, 21) ^ bits.RotateLeft64(uint64(k[2])*0x165667b19e3779f9, 42)
	h *= 0x9e3779b97f4a7c15
	i := int(h >> t.shift)
	for t.slots[i] != 0 && t.keys[t.slots[i]-1] != k {
		i = (i + 1) & (len(t.slots) - 1)
	}
	return i
}

// last returns the point filed last under k, or -1.
func (t *table) last(k key) int32 { return t.slots[t.slot(k)] - 1 }

// file files the next point under k and returns its number.
func (t *table) file(k key) int32 {
	i, id := t.slot(k), int32(len(t.keys))
	t.keys = append(t.keys, k)
	t.next = append(t.next, t.slots[i]-1)
	t.slots[i] = id + 1
	return id
}

// grid files points by the cell of a lattice they lie in.
type grid struct {
	cell    float64 // m
	table   *table
	members []geometry.Vec // in the order of filing
	number  []int32        // of each member
}

func newGrid(points int, cell float64) *grid { return &grid{cell: cell, table: newTable(points)} }

// findOrAdd returns the first point filed within reach of p, or files p as number id
// and returns id. reach is less than the cell.
func (g *grid) findOrAdd(id int32, p geometry.Vec, reach float64) int32 {
	low, high := g.cellOf(p, -reach), g.cellOf(p, reach)
	best := id
	for x := low[0]; x <= high[0]; x++ {
		for y := low[1]; y <= high[1]; y++ {
			for z := low[2]; z <= high[2]; z++ {
				for i := g.table.last(key{x, y, z}); i >= 0; i = g.table.next[i] {
					if g.number[i] < best && g.members[i].Dist(p) <= reach {
						best = g.number[i]
					}
				}
			}
		}
	}
	if best == id {
		g.table.file(g.cellOf(p, 0))
		g.members = append(g.members, p)
		g.number = append(g.number, id)
	}
	return best
}

func (g *grid) cellOf(p geometry.Vec, shift float64) key {
	return key{
		int64(math.Floor((p.X + shift) / g.cell)),
		int64(math.Floor((p.Y + shift) / g.cell)),
		int64(math.Floor((p.Z + shift) / g.cell)),
	}
}
