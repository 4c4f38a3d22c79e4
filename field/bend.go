package field

import (
	"gonum.org/v1/gonum/floats"

	"evenwall/geometry/lattice"
)

// bending is the correction for what a wall cell's symmetric equation leaves out. Along an
// axis on which the wall cuts a link, the difference of the two link currents stands for
// only a part c of the potential's second derivative (Shortley and Weller 1938), along an
// uncut axis for all of it. As the three second derivatives sum to zero, the sum of the
// differences weighted by w/c does, w the least c. What is left over, (1 − w/c) of each, is
// added to the equation: the potential next to the wall is then exact to second order. It
// makes the matrix a little unsymmetric, and multigrid, which does not know of it, remains a
// good guess at its inverse.
type bending struct {
	cells []int32 // numbers of the cells with a wall link, ascending
	link  []int32 // their contacts are contacts[order[link[i]]:order[link[i+1]]]
	order []int32

	opens []openLink // open links of the i-th cell are opens[open[i]:open[i+1]]
	open  []int32

	first []int32 // terms of the i-th cell are terms[first[i]:first[i+1]]
	terms []bendTerm
	own   []float64 // conductance from the cell to the metal, S
	base  []float64 // what the metal's emf adds, A
	rods  []bendRow // of the cells in the rods' region or beside it: what the bands' currents add
}

// openLink is a link to a neighbour, wholly or partly open.
type openLink struct {
	beside int32 // guarded number
	axis   int8
	open   float32
}

// bendRow is what each column of the rods adds to the source of a cell, A/A.
type bendRow struct {
	at  int32 // place in cells
	row []float64
}

// bendTerm is a weighted conductance to a neighbour, S.
type bendTerm struct {
	beside      int32 // guarded number
	conductance float32
}

// newBending lists the wall cells.
func newBending(contacts []contact, q *lattice.Liquid) *bending {
	b, cells := &bending{}, q.Len()
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
		if first[cell+1] > first[cell] {
			b.cells = append(b.cells, int32(cell))
			b.link = append(b.link, first[cell])
			b.open = append(b.open, int32(len(b.opens)))
			q.EachOpen(int32(cell), func(m int32, axis int, open float64) {
				b.opens = append(b.opens, openLink{m + 1, int8(axis), float32(open)})
			})
		}
	}
	b.open = append(b.open, int32(len(b.opens)))
	b.link = append(b.link, int32(len(contacts)))
	b.own, b.base = make([]float64, len(b.cells)), make([]float64, len(b.cells))
	b.first = make([]int32, len(b.cells)+1)
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

// bend sets the terms from the present slopes of the law.
func (s *solver) bend() {
	b, kappa := s.bending, s.Conductivity
	b.terms, b.rods = b.terms[:0], b.rods[:0]
	for i := range b.cells {
		weight := s.bent(i)
		for _, o := range b.opens[b.open[i]:b.open[i+1]] {
			if w := weight[o.axis]; w != 0 {
				b.terms = append(b.terms, bendTerm{o.beside, float32(w * s.system.link * float64(o.open))})
			}
		}
		b.first[i+1] = int32(len(b.terms))
		b.own[i], b.base[i] = 0, 0
		for _, k := range b.of(i, s.contacts) {
			c := &s.contacts[k]
			g := weight[c.link.Axis] * c.conductance(kappa)
			b.own[i] += g
			b.base[i] -= g * c.emf
		}
		s.slide(i, weight)
		b.first[i+1] = int32(len(b.terms))
		if row := s.bendRow(i, weight); row != nil {
			b.rods = append(b.rods, bendRow{int32(i), row})
		}
	}
}

// bendRow returns what the rods' currents add to the source of the i-th wall cell: its terms
// are about u where the cell is in the region, about the potential where it is not, and x holds
// u plus the widened bands' potential in the region. It returns nil for cells that the region
// does not touch.
func (s *solver) bendRow(i int, weight [3]float64) []float64 {
	cell, b, r := s.bending.cells[i], s.bending, s.region
	if r.member == nil {
		return nil
	}
	var row []float64
	add := func(by float64, v []float64) {
		if row == nil {
			row = make([]float64, s.body.columns())
		}
		floats.AddScaled(row, by, v)
	}
	inside := r.member[cell]
	for _, t := range b.terms[b.first[i]:b.first[i+1]] {
		g, other := float64(t.conductance), t.beside-1
		switch beside := r.member[other]; {
		case inside:
			add(-g, r.fat[cell])
			if beside {
				add(g, r.fat[other])
			} else {
				add(g, r.g[other])
			}
		case beside:
			add(g, r.fat[other])
			add(-g, r.g[other])
		}
	}
	if !inside {
		return row
	}
	add(-b.own[i], r.fat[cell])
	for _, k := range b.of(i, s.contacts) {
		c := &s.contacts[k]
		g := weight[c.link.Axis] * c.conductance(s.Conductivity)
		for column := range row {
			row[column] += g * c.mixed(column)
		}
	}
	return row
}

// bent returns the weights 1 − w/c along the axes for the i-th wall cell.
func (s *solver) bent(i int) [3]float64 {
	share := [3]float64{1, 1, 1}
	for _, k := range s.bending.of(i, s.contacts) {
		c := &s.contacts[k]
		share[c.link.Axis] -= c.bent(s.Conductivity, s.Liquid.Lattice.H)
	}
	least := min(share[0], share[1], share[2])
	for axis := range share {
		share[axis] = 1 - least/share[axis]
	}
	return share
}

// source returns what the bending adds to the right-hand side of the i-th wall cell where
// the potentials are x, without the metal's emf, A.
func (b *bending) source(i int, x []float64) float64 {
	v := x[b.cells[i]+1]
	sum := b.own[i] * v
	for _, t := range b.terms[b.first[i]:b.first[i+1]] {
		sum += float64(t.conductance) * (v - x[t.beside])
	}
	return sum
}

// addRods adds scale times what the columns q of the rods put on the sources to y, guarded.
func (b *bending) addRods(y, q []float64, scale float64) {
	for _, r := range b.rods {
		y[b.cells[r.at]+1] += scale * floats.Dot(r.row, q)
	}
}
