package multigrid

import (
	"cmp"
	"math"
	"slices"
)

// Wall is a link from a cell to the wall, or several on one side of a coarse cell.
type Wall struct {
	Cell        int32   // guarded number
	Side        Side    // on which the wall is
	Area        float32 // in squares of the level's spacing
	Conductance float32 // S
	parent      int32   // place among the next coarser level's walls
	beyond      bool    // the wall is between the cell and its parent's middle, or level with it
}

// Side is one of a cell's six sides: twice the axis, and one more on the high side.
type Side int8

// meet sets the conductances to the wall, and the diagonal with them.
func (a *Operator) meet(walls []Wall) {
	clear(a.Wall)
	for i := range walls {
		a.Wall[walls[i].Cell] += walls[i].Conductance
	}
	a.sum()
}

// walls returns the coarse level's links to the wall, without conductances yet, and notes
// in the fine ones where they go.
func (t *transfer) walls(fine []Wall) []Wall {
	from := make([]int32, len(t.children)+1) // where each parent's walls begin
	for i := range fine {
		f := &fine[i]
		f.beyond = t.wallBeyond(f)
		from[t.parent[f.Cell]]++
	}
	for p := range t.children {
		from[p+1] += from[p]
	}
	order, next := make([]int32, len(fine)), slices.Clone(from)
	for i := range fine {
		p := t.parent[fine[i].Cell] - 1
		order[next[p]] = int32(i)
		next[p]++
	}
	for p := range t.children {
		slices.SortFunc(order[from[p]:from[p+1]], func(a, b int32) int {
			return cmp.Or(cmp.Compare(fine[a].Side, fine[b].Side), cmp.Compare(a, b))
		})
	}
	var coarse []Wall
	for _, i := range order {
		f := &fine[i]
		p, last := t.parent[f.Cell], len(coarse)-1
		if last < 0 || coarse[last].Cell != p || coarse[last].Side != f.Side {
			coarse = append(coarse, Wall{Cell: p, Side: f.Side})
			last++
		}
		f.parent = int32(last)
	}
	return coarse
}

// wallBeyond reports whether the wall's cell stands on the inner half of its parent, the
// outer half being empty: then the parent's middle is nearer to the wall than the cell's.
func (t *transfer) wallBeyond(w *Wall) bool {
	outer := false
	t.children[t.parent[w.Cell]-1].each(func(_ int32, side [3]int) {
		outer = outer || Side(side[w.Side/2]) == w.Side&1
	})
	return !outer
}

// nearest is the least liquid, in coarse spacings, that a coarse cell's middle keeps to
// the wall.
const nearest = 0.1

// carry sets the coarse walls from the fine ones: over the same area, half a fine spacing of
// liquid more, or less where the wall is beyond. unit is the conductance of an uncut fine
// link, S.
func (t *transfer) carry(coarse, fine []Wall, unit float64) {
	for i := range coarse {
		coarse[i].Area, coarse[i].Conductance = 0, 0
	}
	for i := range fine {
		f := &fine[i]
		if !(f.Conductance > 0) {
			continue
		}
		half := 1 / (2 * unit * float64(f.Area))
		resistance := 1/float64(f.Conductance) + half
		if f.beyond {
			resistance = math.Max(resistance-2*half, 4*nearest*half)
		}
		c := &coarse[f.parent]
		c.Area += f.Area / 4
		c.Conductance += float32(1 / resistance)
	}
}
