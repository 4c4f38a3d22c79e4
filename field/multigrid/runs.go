package multigrid

import "evenwall/geometry/lattice"

// wideRun is where the figures of a run begin: its own values, its right-hand side, the inverse of its
// diagonal or its conductances to the wall, what is written, the conductances ahead along x, and
// those and the values beside it along y and z.
type wideRun struct {
	own, rhs, diag, out, ahead *float32
	c, v                       [4]*float32
}

func newWideRun(a *Operator, r *lattice.Run, x, b, diag []float32) wideRun {
	f := r.First + 1
	w := wideRun{own: &x[f], rhs: &b[f], diag: &diag[f], ahead: &a.Ahead[0][f]}
	for d, step := range r.Step {
		w.v[d] = &x[f+step]
		switch {
		case !r.Has[d]:
			w.c[d] = &a.zero[0]
		case d%2 == 0:
			w.c[d] = &a.Ahead[1+d/2][f+step]
		default:
			w.c[d] = &a.Ahead[1+d/2][f]
		}
	}
	return w
}
