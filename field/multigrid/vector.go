package multigrid

import "math"

// dot returns the inner product of two guarded vectors.
func dot(a *Operator, x, y []float64) float64 {
	return sum(len(a.parts), func(p int) float64 {
		f, e := a.parts[p].first+1, a.parts[p].end+1
		s, u, v := 0.0, x[f:e], y[f:e]
		for i := range u {
			s += u[i] * v[i]
		}
		return s
	})
}

// subtract sets r to b − q and returns r's norm.
func subtract(a *Operator, r, b, q []float64) float64 {
	return math.Sqrt(sum(len(a.parts), func(p int) float64 {
		s := 0.0
		for n := a.parts[p].first + 1; n <= a.parts[p].end; n++ {
			r[n] = b[n] - q[n]
			s += r[n] * r[n]
		}
		return s
	}))
}

// advance sets p to z + beta p.
func advance(a *Operator, p, z []float64, beta float64) {
	each(len(a.parts), func(part int) {
		f, e := a.parts[part].first+1, a.parts[part].end+1
		u, v := p[f:e], z[f:e]
		for i := range u {
			u[i] = v[i] + beta*u[i]
		}
	})
}

// descend moves x along p and the residual along −q by alpha; it returns the residual's
// norm.
func descend(a *Operator, x []float64, w *Work, alpha float64) float64 {
	return math.Sqrt(sum(len(a.parts), func(part int) float64 {
		f, e := a.parts[part].first+1, a.parts[part].end+1
		u, r, p, q, s := x[f:e], w.r[f:e], w.p[f:e], w.q[f:e], 0.0
		for i := range u {
			u[i] += alpha * p[i]
			r[i] -= alpha * q[i]
			s += r[i] * r[i]
		}
		return s
	}))
}
