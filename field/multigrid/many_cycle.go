package multigrid

// cycle is Hierarchy.cycle for all lanes.
func (m *Many) cycle(i int) {
	k := &m.levels[i]
	if k.up == nil {
		k.bottom()
		return
	}
	next := &m.levels[i+1]
	k.start()
	k.relax(k.colour[1])
	k.relax(k.rim[0])
	k.relax(k.rim[1])
	k.restrict(next)
	m.cycle(i + 1)
	k.prolong(next)
	k.relax(k.rim[1])
	k.relax(k.rim[0])
	k.relax(k.colour[1])
	k.relax(k.colour[0])
}

// sum returns the conductances to the neighbours times their values.
func (c *manyCell) sum(x Vectors) (sum [Lanes]float32) {
	a0, a1, a2 := &x[c.beside[0]], &x[c.beside[1]], &x[c.beside[2]]
	a3, a4, a5 := &x[c.beside[3]], &x[c.beside[4]], &x[c.beside[5]]
	c0, c1, c2, c3, c4, c5 := c.c[0], c.c[1], c.c[2], c.c[3], c.c[4], c.c[5]
	for l := range Lanes {
		sum[l] = (c0*a0[l] + c1*a1[l]) + (c2*a2[l] + c3*a3[l]) + (c4*a4[l] + c5*a5[l])
	}
	return sum
}

// relax makes the equations of the listed cells hold, one after the other.
func (k *manyLevel) relax(list []int32) {
	for _, n := range list {
		c := &k.cells[n]
		off := c.sum(k.x)
		x, b, under := &k.x[n], &k.b[n], c.under
		for l := range Lanes {
			x[l] = (b[l] + off[l]) * under
		}
	}
}

// start is a red half sweep from x = 0.
func (k *manyLevel) start() {
	for _, n := range k.colour[1] {
		k.x[n] = [Lanes]float32{}
	}
	for _, n := range k.colour[0] {
		x, b, under := &k.x[n], &k.b[n], k.cells[n].under
		for l := range Lanes {
			x[l] = b[l] * under
		}
	}
}

// restrict sets the coarser level's right-hand side to the transpose of prolong applied to
// the residual.
func (k *manyLevel) restrict(next *manyLevel) {
	clear(next.b)
	for n := 1; n < len(k.cells)-1; n++ {
		c, up := &k.cells[n], &k.up[n]
		off := c.sum(k.x)
		x, b := &k.x[n], &k.b[n]
		own, a0, a1, a2 := &next.b[up.parent], &next.b[up.aside[0]], &next.b[up.aside[1]], &next.b[up.aside[2]]
		for l := range Lanes {
			r := (b[l] + off[l] - c.diag*x[l]) / 4
			own[l] += r
			a0[l] += r
			a1[l] += r
			a2[l] += r
		}
	}
}

// prolong adds the coarser level's correction.
func (k *manyLevel) prolong(next *manyLevel) {
	for n := 1; n < len(k.cells)-1; n++ {
		up, x := &k.up[n], &k.x[n]
		own, a0, a1, a2 := &next.x[up.parent], &next.x[up.aside[0]], &next.x[up.aside[1]], &next.x[up.aside[2]]
		for l := range Lanes {
			x[l] += (own[l] + a0[l] + a1[l] + a2[l]) / 4
		}
	}
}

// bottom solves the coarsest level.
func (k *manyLevel) bottom() {
	if k.direct == nil {
		k.start()
		k.relax(k.colour[1])
		for range 8 {
			k.relax(k.colour[0])
			k.relax(k.colour[1])
			k.relax(k.colour[1])
			k.relax(k.colour[0])
		}
		return
	}
	n := len(k.cells) - 2
	for i := range n {
		var sum [Lanes]float32
		for j, c := range k.direct[i*n : (i+1)*n] {
			b := &k.b[j+1]
			for l := range Lanes {
				sum[l] += c * b[l]
			}
		}
		k.x[i+1] = sum
	}
}
