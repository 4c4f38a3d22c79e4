package multigrid

import (
	"context"
	"math"

	"evenwall/geometry/lattice"
)

// Matrix is a symmetric positive definite operator on guarded vectors.
type Matrix interface {
	Times(y, x []float64) // y = A x
}

// Settings says when conjugate gradients stop. The zero value means the defaults.
type Settings struct {
	Tolerance  float64 // of the residual's norm over the right-hand side's; 0: 1e-8
	Iterations int     // at most; 0: 60
}

// Status says how an iteration ended.
type Status int

const (
	Converged Status = iota
	OutOfIterations
	Broken // the residual grew or stopped being a number
	Interrupted
)

func (s Status) String() string {
	return [...]string{"converged", "stopped at the most iterations", "broke down", "interrupted"}[s]
}

// Outcome is what an iterative solve reports besides its solution.
type Outcome struct {
	Status     Status
	Iterations int
	Residual   float64 // norm over that of the right-hand side
}

// Work is the vectors of conjugate gradients, kept between solves. What the cycle makes of the
// residual stays in the cycle's own lower precision.
type Work struct{ r, p, q []float64 }

// NewWork returns the vectors for n cells.
func NewWork(n int) *Work {
	v := func() []float64 { return make([]float64, n+2) }
	return &Work{v(), v(), v()}
}

// Solve improves x until A x = b holds to the tolerance: preconditioned conjugate
// gradients (Hestenes and Stiefel 1952), with the Polak–Ribière form of beta, which
// bears a preconditioner in lower precision (Golub and Ye 1999).
func (h *Hierarchy) Solve(ctx context.Context, a Matrix, x, b []float64, w *Work, s Settings) Outcome {
	if s.Tolerance == 0 {
		s.Tolerance = 1e-8
	}
	if s.Iterations == 0 {
		s.Iterations = 60
	}
	top := h.levels[0].a
	size := math.Sqrt(dot(top, b, b))
	if size == 0 {
		clear(x)
		return Outcome{}
	}
	a.Times(w.q, x)
	out := Outcome{Residual: subtract(top, w.r, b, w.q) / size}
	alpha, before := 0.0, 1.0
	clear(w.p)
	scale := out.Residual * size // of the cycle's vectors
	h.load(w.r, scale)
	for out.Residual > s.Tolerance {
		if out.Iterations == s.Iterations || ctx.Err() != nil {
			out.Status = OutOfIterations
			if ctx.Err() != nil {
				out.Status = Interrupted
			}
			return out
		}
		rz, qz := h.precondition(w, scale)
		if out.Iterations == 0 {
			qz = 0
		}
		advance(top, w.p, h.levels[0].x, scale, -alpha*qz/before) // beta = (r_new − r_old)·z / (r_old·z_old)
		a.Times(w.q, w.p)
		alpha, before = rz/dot(top, w.p, w.q), rz
		if math.IsNaN(alpha) || math.IsInf(alpha, 0) {
			out.Status = Broken
			return out
		}
		scale = out.Residual * size
		out.Residual = h.descend(x, w, alpha, scale) / size
		out.Iterations++
	}
	return out
}

// Times makes an Operator a Matrix.
func (a *Operator) Times(y, x []float64) { Apply(a, y, x) }

// residual sets r to b − A x.
func residual(a *Operator, r, x, b []float32) {
	a.eachRun(func(run lattice.Run) {
		n := int(run.End - run.First)
		if n >= short && wide(n) > 0 {
			w := newWideRun(a, &run, x, b, a.Wall)
			w.out = &r[run.First+1]
			residualWide(&w, n)
			for i := run.First + 1 + int32(wide(n)); i <= run.End; i++ {
				r[i] = b[i] - applyCell(a, i, &run.Step, x)
			}
			return
		}
		applyRun(a, run, r, x)
		f, e := run.First+1, run.End+1
		out, rhs := r[f:e], b[f:e]
		for i := range out {
			out[i] = rhs[i] - out[i]
		}
	})
}
