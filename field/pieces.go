package field

import "slices"

// opposed is the cosine between normals from which two patches close by are on the two
// sides of a sheet or of a narrow gap, and no one piece of wall.
const opposed = -0.5

// Pieces groups the patches that are in, by number, into connected pieces of wall, the
// largest first. Patches belong together where their cubes share a corner, so that a piece
// one patch wide holds together however the cubes lie; the two sides of a sheet do not.
func (p *Patches) Pieces(in func(i int) bool) [][]int32 {
	piece := make([]int32, len(p.All)) // of each patch that is in, plus 1; 0: not yet
	var out [][]int32
	for i := range p.All {
		if piece[i] > 0 || !in(i) {
			continue
		}
		number := int32(len(out)) + 1
		piece[i] = number
		group := []int32{int32(i)}
		for at := 0; at < len(group); at++ {
			p.beside(group[at], func(k int32) {
				if piece[k] == 0 && in(int(k)) {
					piece[k] = number
					group = append(group, k)
				}
			})
		}
		slices.Sort(group)
		out = append(out, group)
	}
	slices.SortStableFunc(out, func(a, b []int32) int {
		switch x, y := p.AreaOf(a), p.AreaOf(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// beside calls visit for the patches next to patch i on the same wall.
func (p *Patches) beside(i int32, visit func(k int32)) {
	at := p.bins[i]
	for z := at.z - 1; z <= at.z+1; z++ {
		for y := at.y - 1; y <= at.y+1; y++ {
			for x := at.x - 1; x <= at.x+1; x++ {
				for _, k := range p.filed[[3]int32{x, y, z}] {
					a, b := at.side, p.bins[k].side
					if k != i && !(a*b < 0) && p.All[i].Normal.Dot(p.All[k].Normal) > opposed {
						visit(k)
					}
				}
			}
		}
	}
}

// AreaOf returns the area of some of the patches, m².
func (p *Patches) AreaOf(some []int32) float64 {
	sum := 0.0
	for _, i := range some {
		sum += p.All[i].Area
	}
	return sum
}

// OnSheet reports whether patch i is on an internal sheet.
func (p *Patches) OnSheet(i int32) bool { return p.bins[i].sheet }

// Class returns the class of patch i, as the steel that was cut has it.
func (p *Patches) Class(i int) uint8 { return p.bins[i].class }
