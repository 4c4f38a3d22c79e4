package vessel

// Free is where gas goes that rises to the surface or an opening.
const Free = -1

// Rising returns for each cell below the level the pocket that gas freed there rises into,
// Free when it reaches the surface: straight up as long as it can, then along the ceiling
// to the nearest cell from which it can go on. Gas that gets nowhere, under a ceiling less
// than a cell deep, counts as free.
func Rising(cells Cells, air *Air, pour Pour) []int32 {
	r := rising{cells: cells, to: make([]int32, cells.Len())}
	for i := range r.to {
		r.to[i] = unknown
		if air.Pocket[i] >= 0 {
			r.to[i] = air.Pocket[i]
		} else if cells.Centre(int32(i)).Z > pour.Level {
			r.to[i] = Free
		}
	}
	for _, layer := range layersOf(cells) {
		r.layer(layer, pour.Size)
	}
	return r.to
}

// unknown marks cells that rising has not come to.
const unknown = -2

// rising is Rising at work.
type rising struct {
	cells Cells
	to    []int32
	near  []int32
}

// layer settles the cells of one height, those above being settled.
func (r *rising) layer(layer []int32, size float64) {
	var settled []int32
	for _, c := range layer {
		if r.to[c] == unknown {
			r.to[c] = r.above(c, size)
		}
		if r.to[c] != unknown {
			settled = append(settled, c)
		}
	}
	for k := 0; k < len(settled); k++ { // nearest first
		c := settled[k]
		z := r.cells.Centre(c).Z
		r.near = r.cells.Neighbours(c, r.near[:0])
		for _, n := range r.near {
			if dz := r.cells.Centre(n).Z - z; r.to[n] == unknown && dz < size/2 && dz > -size/2 {
				r.to[n] = r.to[c]
				settled = append(settled, n)
			}
		}
	}
	for _, c := range layer {
		if r.to[c] == unknown {
			r.to[c] = Free
		}
	}
}

// above returns where gas goes from the cell over c, unknown where there is none.
func (r *rising) above(c int32, size float64) int32 {
	z := r.cells.Centre(c).Z
	r.near = r.cells.Neighbours(c, r.near[:0])
	for _, n := range r.near {
		if r.cells.Centre(n).Z > z+size/2 {
			return r.to[n]
		}
	}
	return unknown
}
