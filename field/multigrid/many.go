package multigrid

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Lanes is how many right-hand sides are solved side by side.
const Lanes = 8

// Vectors is a vector of each lane, lanes side by side; guarded as Hierarchy's are.
type Vectors [][Lanes]float32

// Many solves for several right-hand sides at once, in float32: a cell's conductances are
// read once for all of them. It takes no border. One goroutine uses it at a time.
type Many struct {
	levels []manyLevel
	z      Vectors
	r      Vectors
	p      Vectors
	q      Vectors
}

// manyLevel is a level's cells, shared between copies, and its vectors, which are not.
type manyLevel struct {
	cells  []manyCell
	colour [2][]int32
	rim    [2][]int32
	up     []manyUp
	direct []float32 // inverse of the coarsest level's matrix, row by row; nil: sweeps
	x, b   Vectors
}

// manyCell is a cell's row of the matrix.
type manyCell struct {
	beside [6]int32 // guarded numbers; 0: none
	c      [6]float32
	diag   float32
	under  float32 // one over diag
}

// manyUp says what a cell takes of the coarser level: its parent's value and a quarter of
// the difference to up to three of the parent's neighbours.
type manyUp struct {
	parent int32
	aside  [3]int32 // the parent itself where there is no link
}

// NewMany prepares the levels of a hierarchy without a border.
func NewMany(h *Hierarchy) *Many {
	m := &Many{}
	for i, l := range h.levels {
		k := manyLevel{cells: manyCells(l.a)}
		k.colour, k.rim = byColour(l.a.all.parts), byColour(l.a.rim.parts)
		if l.down != nil {
			k.up = manyUps(l, h.levels[i+1].a)
		} else if h.solved {
			k.direct = inverseOf(&h.direct)
		}
		m.levels = append(m.levels, k)
	}
	return m.Copy()
}

// Copy returns a Many for another goroutine.
func (m *Many) Copy() *Many {
	c := &Many{levels: append([]manyLevel(nil), m.levels...)}
	for i := range c.levels {
		k := &c.levels[i]
		k.x, k.b = make(Vectors, len(k.cells)), make(Vectors, len(k.cells))
	}
	n := len(c.levels[0].cells)
	c.z, c.r, c.p, c.q = c.levels[0].x, make(Vectors, n), make(Vectors, n), make(Vectors, n)
	return c
}

// byColour lists the red cells and the black ones.
func byColour(parts []part) (of [2][]int32) {
	for _, p := range parts {
		for _, s := range p.stretches {
			odd := 0
			if s.odd {
				odd = 1
			}
			for n := s.first; n < s.first+s.n; n++ {
				of[odd] = append(of[odd], n)
				odd = 1 - odd
			}
		}
	}
	return of
}

func manyCells(a *Operator) []manyCell {
	cells := make([]manyCell, a.Len()+2)
	for _, r := range a.Cells.Runs {
		steps := [6]int32{-1, 1, r.Step[0], r.Step[1], r.Step[2], r.Step[3]}
		for n := r.First + 1; n <= r.End; n++ {
			k := &cells[n]
			k.diag, k.under = a.Diag[n], 1/a.Diag[n]
			for d, c := range a.beside(n) {
				if c > 0 {
					k.beside[d], k.c[d] = n+steps[d], c
				}
			}
		}
	}
	return cells
}

func manyUps(l *level, coarse *Operator) []manyUp {
	up := make([]manyUp, l.a.Len()+2)
	for _, r := range coarse.Cells.Runs {
		steps := [6]int32{-1, 1, r.Step[0], r.Step[1], r.Step[2], r.Step[3]}
		for n := r.First + 1; n <= r.End; n++ {
			links := coarse.beside(n)
			l.down.children[n-1].each(func(child int32, side [3]int) {
				up[child] = manyUp{parent: n, aside: [3]int32{n, n, n}}
				for axis := range 3 {
					if d := 2*axis + side[axis]; links[d] > 0 {
						up[child].aside[axis] = n + steps[d]
					}
				}
			})
		}
	}
	return up
}

func inverseOf(c *mat.Cholesky) []float32 {
	var inverse mat.SymDense
	if c.InverseTo(&inverse) != nil {
		return nil
	}
	n := inverse.SymmetricDim()
	out := make([]float32, 0, n*n)
	for i := range n {
		for k := range n {
			out = append(out, float32(inverse.At(i, k)))
		}
	}
	return out
}

// Solve finds x with A x = b in every lane, from x = 0, by conjugate gradients as
// Hierarchy.Solve does. A lane without a right-hand side stays 0.
func (m *Many) Solve(ctx context.Context, x, b Vectors, s Settings) Outcome {
	if s.Iterations == 0 {
		s.Iterations = 60
	}
	clear(x)
	clear(m.p)
	clear(m.q)
	copy(m.r, b)
	size := product(m.r, m.r)
	out := Outcome{Residual: 1}
	var alpha, before [Lanes]float64
	for out.Residual > s.Tolerance {
		if ctx.Err() != nil {
			out.Status = Interrupted
			return out
		}
		if out.Iterations == s.Iterations {
			out.Status = OutOfIterations
			return out
		}
		copy(m.levels[0].b, m.r)
		m.cycle(0)
		rz, qz := product(m.r, m.z), product(m.q, m.z)
		var beta [Lanes]float32
		for l := range beta {
			if before[l] > 0 {
				beta[l] = float32(-alpha[l] * qz[l] / before[l])
			}
		}
		pq := m.search(&beta)
		for l := range alpha {
			if alpha[l] = 0; pq[l] > 0 {
				alpha[l] = rz[l] / pq[l]
			}
		}
		before = rz
		rest := m.descend(x, &alpha)
		out.Iterations++
		out.Residual = 0
		for l := range rest {
			if size[l] > 0 {
				out.Residual = math.Max(out.Residual, math.Sqrt(rest[l]/size[l]))
			}
			if math.IsNaN(rest[l]) {
				out.Status = Broken
				return out
			}
		}
	}
	return out
}

// search sets p to z + beta p and q to A p, and returns p·q.
func (m *Many) search(beta *[Lanes]float32) [Lanes]float64 {
	m.p.fold(beta, m.z)
	m.levels[0].times(m.q, m.p)
	return product(m.p, m.q)
}

// descend moves x along p and the residual along −q, and returns the residual's square.
func (m *Many) descend(x Vectors, alpha *[Lanes]float64) [Lanes]float64 {
	var a, minus [Lanes]float32
	for l := range a {
		a[l] = float32(alpha[l])
		minus[l] = -a[l]
	}
	x.add(&a, m.p)
	m.r.add(&minus, m.q)
	return product(m.r, m.r)
}
