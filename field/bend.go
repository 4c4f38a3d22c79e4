package field

// bending is the correction for what a wall cell's symmetric equation leaves out. Along an
// axis on which the wall cuts a link, the difference of the two link currents stands for
// only a part c of the potential's second derivative (Shortley and Weller 1938), along an
// uncut axis for all of it. As the three second derivatives sum to zero, the sum of the
// differences weighted by w/c does, w the least c. What is left over, (1 − w/c) of each, is
// carried to the right-hand side and taken from the solution before: in a few rounds the
// potential next to the wall is exact to second order, while the matrix stays symmetric.
type bending struct {
	cells  []int32 // numbers of the cells with a wall link, outside the rods' region, ascending
	link   []int32 // their contacts are contacts[order[link[i]]:order[link[i+1]]]
	order  []int32
	source []float64 // A, by place in cells: for the next round
	spent  []float64 // the sources of the round that the solution is of
}

// newBending lists the wall cells.
func newBending(contacts []contact, r *region, cells int) *bending {
	b := &bending{}
	first := make([]int32, cells+1)
	for i := range contacts {
		first[contacts[i].link.Cell+1]++
	}
	for i := range cells {
		first[i+1] += first[i]
	}
	b.order = make([]int32, len(contacts))
	next := append([]int32(nil), first...)
	for i := range contacts {
		cell := contacts[i].link.Cell
		b.order[next[cell]] = int32(i)
		next[cell]++
	}
	for cell := range cells {
		if first[cell+1] > first[cell] && (r.member == nil || !r.member[cell]) {
			b.cells = append(b.cells, int32(cell))
			b.link = append(b.link, first[cell])
		}
	}
	b.link = append(b.link, int32(len(contacts)))
	b.source, b.spent = make([]float64, len(b.cells)), make([]float64, len(b.cells))
	return b
}

// of returns the contacts of the i-th listed cell.
func (b *bending) of(i int, contacts []contact) []int32 {
	end := b.link[i]
	for int(end) < len(b.order) && contacts[b.order[end]].link.Cell == b.cells[i] {
		end++
	}
	return b.order[b.link[i]:end]
}

// bend sets the sources from the present solution.
func (s *solver) bend() {
	copy(s.bending.spent, s.bending.source)
	spread((len(s.bending.cells)+1023)/1024, func(block int) {
		for i := block * 1024; i < min(len(s.bending.cells), (block+1)*1024); i++ {
			s.bending.source[i] = s.bendOf(i)
		}
	})
}

// bendOf returns the source of the i-th wall cell, A.
func (s *solver) bendOf(i int) float64 {
	cell, kappa := s.bending.cells[i], s.Conductivity
	var net [3]float64 // net current in along each axis, A
	share := [3]float64{1, 1, 1}
	v := s.x[cell+1]
	s.Liquid.EachOpen(cell, func(m int32, axis int, open float64) {
		net[axis] += s.system.link * open * (s.x[m+1] - v)
	})
	for _, k := range s.bending.of(i, s.contacts) {
		c := &s.contacts[k]
		net[c.link.Axis] -= c.conductance(kappa) * (v - c.emf)
		share[c.link.Axis] -= c.bent(kappa)
	}
	least := min(share[0], share[1], share[2])
	sum := 0.0
	for axis := range net {
		sum -= (1 - least/share[axis]) * net[axis]
	}
	return sum
}
