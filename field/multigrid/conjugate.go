package multigrid

import (
	"context"
	"math"
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
	defer func() { // the last step along p, if it was not nonsense
		if out.Status != Broken {
			h.advance(x, w, alpha, 0, 0)
		}
	}()
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
		h.advance(x, w, alpha, scale, -alpha*qz/before) // beta = (r_new − r_old)·z / (r_old·z_old)
		a.Times(w.q, w.p)
		alpha, before = rz/dot(top, w.p, w.q), rz
		if math.IsNaN(alpha) || math.IsInf(alpha, 0) {
			out.Status = Broken
			return out
		}
		scale = out.Residual * size
		out.Residual = h.descend(w, alpha, scale) / size
		out.Iterations++
	}
	return out
}
