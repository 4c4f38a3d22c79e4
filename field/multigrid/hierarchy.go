package multigrid

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/mat"
)

// coarsest is the number of cells at which coarsening stops and a dense factorisation
// takes over.
const coarsest = 150

// Hierarchy is the levels of the multigrid cycle over an operator, finest first.
type Hierarchy struct {
	levels []*level
	direct mat.Cholesky // of the coarsest level
	solved bool         // direct holds a factorisation
	unit   float64      // conductance of an uncut link of the finest level, S
}

// level is one level with its own vectors.
type level struct {
	a     *Operator
	walls []Wall    // links to the wall, by cell
	down  *transfer // to the next coarser level; nil on the coarsest
	rim   []part    // the cells in the two layers next to the wall
	x, b  []float32
	r     []float32

	border *Border // nil: none
}

// NewHierarchy builds the coarser levels under the operator. walls are its links to the
// wall, by cell; they are kept, and Rebuild reads their conductances anew. unit is the
// conductance of an uncut link, S.
func NewHierarchy(a *Operator, walls []Wall, unit float64) *Hierarchy {
	h := LayOut(a, walls, unit)
	h.Rebuild()
	return h
}

// LayOut is NewHierarchy as far as it does not hang on the walls' conductances: Rebuild must follow.
func LayOut(a *Operator, walls []Wall, unit float64) *Hierarchy {
	h := &Hierarchy{unit: unit}
	for {
		a.arrange(walls)
		if i := len(h.levels) - 1; i >= 0 {
			h.levels[i].down.arrange(a)
		}
		l := &level{a: a, walls: walls}
		l.x, l.b, l.r = make([]float32, a.Len()+2), make([]float32, a.Len()+2), make([]float32, a.Len()+2)
		h.levels = append(h.levels, l)
		if a.Len() <= coarsest {
			break
		}
		cells, t := coarsen(a.Cells)
		if cells.Len() == 0 || cells.Len() > a.Len()*3/4 {
			break
		}
		l.down = t
		a = NewOperator(cells)
		t.links(l.a, a)
		walls = t.walls(walls)
	}
	return h
}

// links sets the coarse conductances between cells: the mean over the fine links that
// cross between the two, in series with half a fine link at each end.
func (t *transfer) links(fine, coarse *Operator) {
	t.parent = make([]int32, fine.Len()+2)
	for n := range t.children {
		t.children[n].each(func(child int32, _ [3]int) { t.parent[child] = int32(n) + 1 })
	}
	fine.visitAhead(func(n, m int32, axis int, c float32) {
		if p, q := t.parent[n], t.parent[m]; p != q && p > 0 && q > 0 {
			coarse.Ahead[axis][p] += c / 2
		}
	})
}

// visitAhead calls visit for every link with the guarded indices of its two cells, its
// axis and conductance.
func (a *Operator) visitAhead(visit func(n, m int32, axis int, c float32)) {
	for _, r := range a.Cells.Runs {
		steps := [3]int32{1, r.Step[1], r.Step[3]}
		for n := r.First + 1; n <= r.End; n++ {
			for axis, step := range steps {
				if c := a.Ahead[axis][n]; c > 0 {
					visit(n, n+step, axis, c)
				}
			}
		}
	}
}

// Rebuild carries the changed conductances of the finest level's walls down to all levels;
// the links between cells stay as they are.
func (h *Hierarchy) Rebuild() {
	unit := h.unit
	for i, l := range h.levels {
		l.a.meet(l.walls)
		if l.down == nil {
			break
		}
		l.down.carry(h.levels[i+1].walls, l.walls, unit)
		unit *= 2
	}
	h.factor()
}

// factor prepares the dense solve of the coarsest level.
func (h *Hierarchy) factor() {
	last := h.levels[len(h.levels)-1]
	a := last.a
	h.solved = false
	if a.Len() == 0 || a.Len() > 4*coarsest {
		return
	}
	dense := mat.NewSymDense(a.Len(), nil)
	for n := range a.Len() {
		dense.SetSym(n, n, float64(a.Diag[n+1])*(1+1e-6))
	}
	a.visitAhead(func(n, m int32, _ int, c float32) { dense.SetSym(int(n)-1, int(m)-1, -float64(c)) })
	if last.border != nil {
		last.border.addDense(dense)
	}
	h.solved = h.direct.Factorize(dense)
}

// load sets the right-hand side of the cycle to r over scale, and starts on it.
func (h *Hierarchy) load(r []float64, scale float64) {
	top := h.levels[0]
	each(len(top.a.all.parts), func(p int) {
		f, e := top.a.all.parts[p].first, top.a.all.parts[p].end
		b, x, inverse := top.b[f:e], top.x[f:e], top.a.Inverse[f:e]
		for i, v := range r[f:e] {
			b[i] = float32(v / scale)
			x[i] = b[i] * inverse[i]
		}
	})
}

// precondition runs one cycle on what is loaded; its answer z, over scale, stays in the finest
// level's x. It returns r·z and q·z.
func (h *Hierarchy) precondition(w *Work, scale float64) (rz, qz float64) {
	top := h.levels[0]
	h.cycle(0)
	rz, qz = sums(len(top.a.all.parts), func(p int) (rz, qz float64) {
		f, e := top.a.all.parts[p].first, top.a.all.parts[p].end
		return products(top.x[f:e], w.r[f:e], w.q[f:e])
	})
	return rz * scale, qz * scale
}

// cycle solves level i approximately for x, from b: V(1,1), symmetric. The finest level has been
// started on already.
func (h *Hierarchy) cycle(i int) {
	l := h.levels[i]
	if l.down == nil {
		h.bottom(l)
		return
	}
	if i > 0 {
		start(l.a, l.x, l.b)
	}
	relax(l.a, &l.a.all, l.x, l.b, black)
	relax(l.a, &l.a.rim, l.x, l.b, red)
	relax(l.a, &l.a.rim, l.x, l.b, black)
	residual(l.a, l.r, l.x, l.b)
	if l.border != nil {
		AddTo(l.border, l.r, l.x, -1)
	}
	l.down.restrict(h.levels[i+1].a, h.levels[i+1].b, l.r)
	h.cycle(i + 1)
	l.down.prolong(l.x, h.levels[i+1].x)
	if l.border != nil {
		AddTo(l.border, l.b, l.x, -1)
	}
	relax(l.a, &l.a.rim, l.x, l.b, black)
	relax(l.a, &l.a.rim, l.x, l.b, red)
	relax(l.a, &l.a.all, l.x, l.b, black)
	relax(l.a, &l.a.all, l.x, l.b, red)
}

// bottom solves the coarsest level: directly, or where it could not be factored by a
// fixed number of symmetric sweeps.
func (h *Hierarchy) bottom(l *level) {
	if h.solved {
		n := l.a.Len()
		b, x := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
		for i := range n {
			b.SetVec(i, float64(l.b[i+1]))
		}
		if h.direct.SolveVecTo(x, b) == nil {
			for i := range n {
				l.x[i+1] = float32(x.AtVec(i))
			}
			return
		}
	}
	start(l.a, l.x, l.b)
	relax(l.a, &l.a.all, l.x, l.b, black)
	for range 8 {
		relax(l.a, &l.a.all, l.x, l.b, red)
		relax(l.a, &l.a.all, l.x, l.b, black)
		relax(l.a, &l.a.all, l.x, l.b, black)
		relax(l.a, &l.a.all, l.x, l.b, red)
	}
}

// String prints the levels: cells, cells next to the wall, and the memory of each.
func (h *Hierarchy) String() string {
	var s strings.Builder
	for i, l := range h.levels {
		near := int32(0)
		for _, p := range l.a.rim.parts {
			for _, k := range p.stretches {
				near += k.n
			}
		}
		fmt.Fprintf(&s, "level %d: %d cells, %d next to the wall, %.1f MB\n", i, l.a.Len(), near,
			float64(l.a.Len())*4*11/math.Pow(2, 20))
	}
	return s.String()
}
