// Package multigrid solves the discrete conduction problem on the liquid cells of a
// lattice: conjugate gradients in float64, preconditioned by one multigrid V-cycle in
// float32. It knows conductances and cells, nothing of tanks.
//
// Every vector has one guard element at each end: the value of cell n stands at n+1.
// Results are the same to the last bit for any number of goroutines: work is cut into
// fixed blocks, and sums are taken block by block in order.
package multigrid

import "evenwall/geometry/lattice"

// Real is the precision of a vector.
type Real interface{ float32 | float64 }

// Operator is the conductance matrix of a level: symmetric and positive definite as long
// as every connected set of cells has some conductance to the wall. Row n reads
//
//	(A x)_n = Diag_n x_n − sum over the six neighbours m of C_nm x_m
//
// with Diag the sum of all conductances of the cell, the one to the wall included.
type Operator struct {
	Cells *lattice.Numbering
	Ahead [3][]float32 // conductance to the neighbour ahead along x, y, z, S; guarded; 0: none
	Wall  []float32    // conductance to the wall, S; guarded
	Diag  []float32    // guarded; set by Sum
	// Inverse is 1 over Diag.
	Inverse []float32
	zero    []float32 // as long as the longest run
	parts   []part
}

// part is a block of runs that one goroutine sweeps at a time.
type part struct {
	runs       []lattice.Run
	first, end int // cells
}

// partCells is how many cells a block holds at least. It does not depend on the number
// of cores, so that sums do not either.
const partCells = 1 << 12

// NewOperator returns an operator without conductances on the given cells.
func NewOperator(cells *lattice.Numbering) *Operator {
	a := &Operator{Cells: cells}
	for axis := range a.Ahead {
		a.Ahead[axis] = make([]float32, cells.Len()+2)
	}
	a.Wall, a.Diag, a.Inverse = make([]float32, cells.Len()+2), make([]float32, cells.Len()+2), make([]float32, cells.Len()+2)
	longest := int32(0)
	for _, r := range cells.Runs {
		longest = max(longest, r.End-r.First)
	}
	a.zero = make([]float32, longest)
	a.parts = cut(cells)
	return a
}

// cut groups runs into blocks.
func cut(cells *lattice.Numbering) []part {
	var parts []part
	runs := cells.Runs
	for len(runs) > 0 {
		end := 1
		for end < len(runs) && runs[end-1].End-runs[0].First < partCells {
			end++
		}
		parts = append(parts, part{runs[:end], int(runs[0].First), int(runs[end-1].End)})
		runs = runs[end:]
	}
	return parts
}

// Len returns the number of cells.
func (a *Operator) Len() int { return a.Cells.Len() }

// Sum sets the diagonal from the conductances. A cell without any gets 1, so that it
// keeps the value zero.
func (a *Operator) Sum() {
	a.eachRun(func(r lattice.Run) {
		s := a.stencil(r)
		diag, inverse, wall := a.Diag[r.First+1:r.End+1], a.Inverse[r.First+1:r.End+1], a.Wall[r.First+1:r.End+1]
		for i := range diag {
			d := wall[i] + s.c[0][i] + s.c[1][i] + s.c[2][i] + s.c[3][i] + s.c[4][i] + s.c[5][i]
			if d == 0 {
				d = 1
			}
			diag[i], inverse[i] = d, 1/d
		}
	})
}

// eachRun calls visit for every run, blocks side by side.
func (a *Operator) eachRun(visit func(lattice.Run)) {
	each(len(a.parts), func(b int) {
		for _, r := range a.parts[b].runs {
			visit(r)
		}
	})
}

// stencil holds the conductances of a run to its six neighbours, −x +x −y +y −z +z.
type stencil struct{ c [6][]float32 }

func (a *Operator) stencil(r lattice.Run) stencil {
	f, e := r.First+1, r.End+1
	n := e - f
	var s stencil
	s.c[0], s.c[1] = a.Ahead[0][f-1 : e-1][:n], a.Ahead[0][f:e][:n]
	for d := range r.Step {
		axis, back := 1+d/2, d%2 == 0
		switch {
		case !r.Has[d]:
			s.c[2+d] = a.zero[:n]
		case back:
			s.c[2+d] = a.Ahead[axis][f+r.Step[d]:][:n]
		default:
			s.c[2+d] = a.Ahead[axis][f:e][:n]
		}
	}
	return s
}

// values holds a vector's values at a run's six neighbours. Where there is no neighbour
// the run's own values stand in: their conductance is zero.
type values[T Real] struct{ v [6][]T }

func neighbours[T Real](x []T, r lattice.Run) values[T] {
	f, e := r.First+1, r.End+1
	n := e - f
	var s values[T]
	s.v[0], s.v[1] = x[f-1 : e-1][:n], x[f+1 : e+1][:n]
	for d, step := range r.Step {
		s.v[2+d] = x[f+step:][:n]
	}
	return s
}

// Apply sets y to A x.
func Apply[T Real](a *Operator, y, x []T) {
	a.eachRun(func(r lattice.Run) { applyRun(a, r, y, x) })
}

func applyRun[T Real](a *Operator, r lattice.Run, y, x []T) {
	if r.End-r.First < short {
		for n := r.First + 1; n <= r.End; n++ {
			y[n] = applyCell(a, n, &r.Step, x)
		}
		return
	}
	c, v := a.stencil(r), neighbours(x, r)
	f, e := r.First+1, r.End+1
	out := y[f:e]
	n := len(out)
	own, w := x[f:e][:n], a.Wall[f:e][:n]
	c0, c1, c2, c3, c4, c5 := c.c[0][:n], c.c[1][:n], c.c[2][:n], c.c[3][:n], c.c[4][:n], c.c[5][:n]
	v0, v1, v2, v3, v4, v5 := v.v[0][:n], v.v[1][:n], v.v[2][:n], v.v[3][:n], v.v[4][:n], v.v[5][:n]
	for i, x := range own {
		// by differences, so that no current is lost to the rounding of the diagonal
		out[i] = T(w[i])*x + T(c0[i])*(x-v0[i]) + T(c1[i])*(x-v1[i]) + T(c2[i])*(x-v2[i]) +
			T(c3[i])*(x-v3[i]) + T(c4[i])*(x-v4[i]) + T(c5[i])*(x-v5[i])
	}
}

// applyCell returns the row of A x of guarded cell n.
func applyCell[T Real](a *Operator, n int32, step *[4]int32, x []T) T {
	c, own := a.Ahead[0], x[n]
	s := T(a.Wall[n])*own + T(c[n-1])*(own-x[n-1]) + T(c[n])*(own-x[n+1])
	c = a.Ahead[1]
	if d := step[lattice.BackY]; d != 0 {
		s += T(c[n+d]) * (own - x[n+d])
	}
	if d := step[lattice.AheadY]; d != 0 {
		s += T(c[n]) * (own - x[n+d])
	}
	c = a.Ahead[2]
	if d := step[lattice.BackZ]; d != 0 {
		s += T(c[n+d]) * (own - x[n+d])
	}
	if d := step[lattice.AheadZ]; d != 0 {
		s += T(c[n]) * (own - x[n+d])
	}
	return s
}
