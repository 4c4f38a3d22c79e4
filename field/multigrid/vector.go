package multigrid

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// dot returns the inner product of two guarded vectors.
func dot(a *Operator, x, y []float64) float64 {
	return sum(len(a.all.parts), func(p int) float64 {
		f, e := a.all.parts[p].first, a.all.parts[p].end
		return floats.Dot(x[f:e], y[f:e])
	})
}

// subtract sets r to b − q and returns r's norm.
func subtract(a *Operator, r, b, q []float64) float64 {
	return math.Sqrt(sum(len(a.all.parts), func(p int) float64 {
		f, e := a.all.parts[p].first, a.all.parts[p].end
		floats.SubTo(r[f:e], b[f:e], q[f:e])
		return floats.Dot(r[f:e], r[f:e])
	}))
}

// advance moves x along p by alpha, which the step before found, and sets p to scale z + beta p.
func (h *Hierarchy) advance(x []float64, w *Work, alpha, scale, beta float64) {
	top := h.levels[0]
	each(len(top.a.all.parts), func(part int) {
		f, e := top.a.all.parts[part].first, top.a.all.parts[part].end
		z := top.x[f:e]
		u, p := x[f:e][:len(z)], w.p[f:e][:len(z)]
		for i, v := range z {
			u[i] += alpha * p[i]
			p[i] = float64(v)*scale + beta*p[i]
		}
	})
}

// descend moves the residual along −q by alpha, and loads the cycle with the new one over scale; it
// returns the residual's norm.
func (h *Hierarchy) descend(w *Work, alpha, scale float64) float64 {
	top, over := h.levels[0], 1/scale
	return math.Sqrt(sum(len(top.a.all.parts), func(part int) float64 {
		f, e := top.a.all.parts[part].first, top.a.all.parts[part].end
		r := w.r[f:e]
		q, b, x, inverse := w.q[f:e][:len(r)], top.b[f:e][:len(r)], top.x[f:e][:len(r)], top.a.Inverse[f:e][:len(r)]
		even, odd := 0.0, 0.0
		for i := range r {
			v := r[i] - alpha*q[i]
			r[i], b[i] = v, float32(v*over)
			x[i] = b[i] * inverse[i]
			even, odd = odd, even+v*v // two sums, so that an addition need not wait for the one before
		}
		return even + odd
	}))
}

// products returns z·r and z·q, each as two sums side by side, so that one addition need not wait
// for the one before.
func products(z []float32, r, q []float64) (zr, zq float64) {
	r, q = r[:len(z)], q[:len(z)]
	var r0, r1, q0, q1 float64
	i := 0
	for ; i < len(z)-1; i += 2 {
		u, v := float64(z[i]), float64(z[i+1])
		r0, r1 = r0+u*r[i], r1+v*r[i+1]
		q0, q1 = q0+u*q[i], q1+v*q[i+1]
	}
	for ; i < len(z); i++ {
		r0, q0 = r0+float64(z[i])*r[i], q0+float64(z[i])*q[i]
	}
	return r0 + r1, q0 + q1
}
