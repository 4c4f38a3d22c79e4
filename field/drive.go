package field

import (
	"gonum.org/v1/gonum/mat"
)

// drive is how the supply acts on the bands: at a fixed voltage behind its resistance, or
// at its current limit.
type drive struct {
	volts   float64 // across liquid and laws at no current, V
	series  float64 // ohm
	limit   float64 // A; 0: none
	limited bool    // the limit holds
}

func newDrive(s Supply) drive {
	return drive{volts: s.Voltage - s.Dead, series: s.Resistance, limit: s.Limit}
}

// apply turns P into K for the present mode, so that the columns are
// q = push − K (c + Bᵀx); it returns K and push. The first currents of the columns are
// currents of bands, which the supply feeds; the others are dipoles.
func (d *drive) apply(p *mat.SymDense, currents int) (k *mat.Dense, push []float64, ok bool) {
	n := p.SymmetricDim()
	loaded := mat.DenseCopyOf(p)
	if !d.limited {
		for i := range currents {
			for j := range currents {
				loaded.Set(i, j, loaded.At(i, j)+d.series)
			}
		}
	}
	var lu mat.LU
	lu.Factorize(loaded)
	k = mat.NewDense(n, n, nil)
	if lu.SolveTo(k, false, identity(n)) != nil {
		return nil, nil, false
	}
	push = make([]float64, n)
	for i := range n {
		push[i] = sumOf(k.RawRowView(i)[:currents]) // P⁻¹ (1 … 1 0 … 0)
	}
	if !d.limited {
		for i := range push {
			push[i] *= d.volts
		}
		return k, push, true
	}
	total := sumOf(push[:currents])
	k.RankOne(k, -1/total, mat.NewVecDense(n, push), mat.NewVecDense(n, push))
	scale(push, d.limit/total)
	return k, push, true
}

// across returns the volts over liquid and laws when the bands' currents are q: at the
// limit from their own equations, c + Bᵀx + P q, whose mean over the bands weighted by
// the currents it takes.
func (d *drive) across(p *mat.SymDense, q, back []float64, currents int) float64 {
	if !d.limited {
		return d.volts - d.series*sumOf(q[:currents])
	}
	var pq mat.VecDense
	pq.MulVec(p, mat.NewVecDense(len(q), q))
	v, total := 0.0, sumOf(q[:currents])
	for i := range currents {
		v += q[i] * (back[i] + pq.AtVec(i)) / total
	}
	return v
}

// switched changes the mode where the present one cannot hold and reports whether it did.
func (d *drive) switched(current, across float64) bool {
	if d.limit <= 0 {
		return false
	}
	over := !d.limited && current > d.limit*(1+1e-12)
	under := d.limited && across > d.volts-d.series*d.limit+1e-12
	if over || under {
		d.limited = over
		return true
	}
	return false
}

func identity(n int) *mat.Dense {
	m := mat.NewDense(n, n, nil)
	for i := range n {
		m.Set(i, i, 1)
	}
	return m
}

func sumOf(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}
