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

// advance sets p to scale z + beta p.
func advance(a *Operator, p []float64, z []float32, scale, beta float64) {
	each(len(a.parts), func(part int) {
		f, e := a.parts[part].first+1, a.parts[part].end+1
		u, v := p[f:e], z[f:e]
		for i := range u {
			u[i] = float64(v[i])*scale + beta*u[i]
		}
	})
}

// descend moves x along p and the residual along −q by alpha, and loads the cycle with the new
// residual over scale; it returns the residual's norm.
func (h *Hierarchy) descend(x []float64, w *Work, alpha, scale float64) float64 {
	top, over := h.levels[0], 1/scale
	return math.Sqrt(sum(len(top.a.parts), func(part int) float64 {
		f, e := top.a.parts[part].first+1, top.a.parts[part].end+1
		u, s := x[f:e], 0.0
		r, p, q, b := w.r[f:e][:len(u)], w.p[f:e][:len(u)], w.q[f:e][:len(u)], top.b[f:e][:len(u)]
		for i := range u {
			u[i] += alpha * p[i]
			v := r[i] - alpha*q[i]
			r[i], b[i] = v, float32(v*over)
			s += v * v
		}
		return s
	}))
}
