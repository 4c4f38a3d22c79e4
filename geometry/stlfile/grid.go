package stlfile

import (
	"math"
	"slices"

	"evenwall/geometry"
)

// grid files points by the cell of a lattice they lie in.
type grid struct {
	cell  float64 // m
	first map[[3]int64]int32
	next  []int32 // the next point in the same cell, or -1
}

func newGrid(points int, cell float64) *grid {
	return &grid{cell: cell, first: make(map[[3]int64]int32, points), next: make([]int32, points)}
}

// findOrAdd returns the first point filed within reach of p, or files p as number id
// and returns id. reach is less than the cell.
func (g *grid) findOrAdd(points []geometry.Vec, id int32, p geometry.Vec, reach float64) int32 {
	low, high := g.cellOf(p, -reach), g.cellOf(p, reach)
	best := id
	for x := low[0]; x <= high[0]; x++ {
		for y := low[1]; y <= high[1]; y++ {
			for z := low[2]; z <= high[2]; z++ {
				best = min(best, g.nearIn([3]int64{x, y, z}, points, p, reach, id))
			}
		}
	}
	if best == id {
		g.file(id, g.cellOf(p, 0))
	}
	return best
}

// nearIn returns the lowest point of the cell within reach of p, or none.
func (g *grid) nearIn(cell [3]int64, points []geometry.Vec, p geometry.Vec, reach float64, none int32) int32 {
	i, ok := g.first[cell]
	if !ok {
		return none
	}
	for ; i >= 0; i = g.next[i] {
		if i < none && points[i].Dist(p) <= reach {
			none = i
		}
	}
	return none
}

func (g *grid) file(id int32, cell [3]int64) {
	g.next[id] = -1
	if head, ok := g.first[cell]; ok {
		g.next[id] = head
	}
	g.first[cell] = id
}

func (g *grid) cellOf(p geometry.Vec, shift float64) [3]int64 {
	return [3]int64{
		int64(math.Floor((p.X + shift) / g.cell)),
		int64(math.Floor((p.Y + shift) / g.cell)),
		int64(math.Floor((p.Z + shift) / g.cell)),
	}
}

// faceSet knows the facets added so far by their corners, however turned.
type faceSet map[[3]int32]struct{}

func newFaceSet(size int) faceSet { return make(faceSet, size) }

// add reports whether the facet is new.
func (s faceSet) add(f [3]int32) bool {
	slices.Sort(f[:])
	if _, seen := s[f]; seen {
		return false
	}
	s[f] = struct{}{}
	return true
}
