package multigrid

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

// relaxPlain makes the equations of the listed cells hold, one after the other.
func (k *manyLevel) relaxPlain(list []int32) {
	for _, n := range list {
		c := &k.cells[n]
		off := c.sum(k.x)
		x, b, under := &k.x[n], &k.b[n], c.under
		for l := range Lanes {
			x[l] = (b[l] + off[l]) * under
		}
	}
}

// timesPlain sets y to A x.
func (k *manyLevel) timesPlain(y, x Vectors) {
	for n := 1; n < len(k.cells)-1; n++ {
		off, diag := k.cells[n].sum(x), k.cells[n].diag
		for l := range Lanes {
			y[n][l] = diag*x[n][l] - off[l]
		}
	}
}

// restrictPlain sets the coarser level's right-hand side to the transpose of prolong applied to
// the residual.
func (k *manyLevel) restrictPlain(next *manyLevel) {
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

// prolongPlain adds the coarser level's correction.
func (k *manyLevel) prolongPlain(next *manyLevel) {
	for n := 1; n < len(k.cells)-1; n++ {
		up, x := &k.up[n], &k.x[n]
		own, a0, a1, a2 := &next.x[up.parent], &next.x[up.aside[0]], &next.x[up.aside[1]], &next.x[up.aside[2]]
		for l := range Lanes {
			x[l] += (own[l] + a0[l] + a1[l] + a2[l]) / 4
		}
	}
}

// addPlain adds by times x.
func (v Vectors) addPlain(by *[Lanes]float32, x Vectors) {
	for n := range v {
		for l := range Lanes {
			v[n][l] += by[l] * x[n][l]
		}
	}
}

// foldPlain multiplies v by by and adds x.
func (v Vectors) foldPlain(by *[Lanes]float32, x Vectors) {
	for n := range v {
		for l := range Lanes {
			v[n][l] = x[n][l] + by[l]*v[n][l]
		}
	}
}

// productPlain returns the lanes' inner products, in float64.
func productPlain(x, y Vectors) (sum [Lanes]float64) {
	for n := range x {
		u, v := &x[n], &y[n]
		for l := range Lanes {
			sum[l] += float64(u[l] * v[l])
		}
	}
	return sum
}

// mixPlain returns the sum of cells, guarded numbers, with weights.
func (v Vectors) mixPlain(cells []int32, weights []float32) (sum [Lanes]float32) {
	for i, n := range cells {
		x, w := &v[n], weights[i]
		for l := range Lanes {
			sum[l] += w * x[l]
		}
	}
	return sum
}

// Mix returns the sum of cells, guarded numbers, with as many weights.
func (v Vectors) Mix(cells []int32, weights []float32) [Lanes]float32 { return v.mix(cells, weights) }
