package multigrid

import (
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"evenwall/geometry/lattice"
)

// Border is a few further conductors joined to many cells, with their own unknowns
// eliminated: it adds B K Bᵀ to the matrix. K must be symmetric and not negative.
type Border struct {
	Rows  []int32   // guarded numbers of the cells that B touches, each once
	B     []float64 // their rows, one after the other
	Width int       // columns of B
	K     *mat.Dense
	t, w  []float64
}

// Row returns the i-th row of B.
func (d *Border) Row(i int) []float64 { return d.B[i*d.Width : (i+1)*d.Width] }

// Gather sets t to Bᵀ x.
func Gather[T Real](d *Border, t []float64, x []T) {
	clear(t)
	for i, n := range d.Rows {
		floats.AddScaled(t, float64(x[n]), d.Row(i))
	}
}

// Spread adds scale·B q to y.
func Spread[T Real](d *Border, y []T, q []float64, scale float64) {
	for i, n := range d.Rows {
		y[n] += T(scale * floats.Dot(d.Row(i), q))
	}
}

// AddTo adds scale·B K Bᵀ x to y and returns K Bᵀ x, which the next call overwrites.
func AddTo[T Real](d *Border, y, x []T, scale float64) []float64 {
	if d.t == nil {
		d.t, d.w = make([]float64, d.Width), make([]float64, d.Width)
	}
	Gather(d, d.t, x)
	mat.NewVecDense(d.Width, d.w).MulVec(d.K, mat.NewVecDense(d.Width, d.t))
	Spread(d, y, d.w, scale)
	return d.w
}

// coarse returns the border as the next coarser level sees it: its rows restricted.
func (d *Border) coarse(t *transfer, fine *lattice.Numbering, coarse *Operator) *Border {
	c := &Border{Width: d.Width, K: d.K}
	index := map[int32]int{}
	add := func(n int32, weight float64, row []float64) {
		i, ok := index[n]
		if !ok {
			i = len(c.Rows)
			index[n] = i
			c.Rows = append(c.Rows, n)
			c.B = append(c.B, make([]float64, d.Width)...)
		}
		floats.AddScaled(c.Row(i), weight, row)
	}
	for i, n := range d.Rows {
		p := t.parent[n]
		own := 1.0
		coarse.visitSides(p, side(fine, n), func(m int32) {
			add(m, 0.25, d.Row(i))
			own -= 0.25
		})
		add(p, own, d.Row(i))
	}
	return c
}

// side returns on which sides of its parent a cell stands: 0 low, 1 high along x, y, z.
func side(cells *lattice.Numbering, n int32) [3]int {
	key := int(cells.Keys[n-1])
	row := key / cells.N[0]
	return [3]int{key % cells.N[0] & 1, row % cells.N[1] & 1, row / cells.N[1] & 1}
}

// visitSides calls visit with those neighbours of guarded cell n, on the given sides, that
// it has a conductance to.
func (a *Operator) visitSides(n int32, side [3]int, visit func(m int32)) {
	key := a.Cells.Keys[n-1]
	steps := [3]int32{1, int32(a.Cells.N[0]), int32(a.Cells.N[0] * a.Cells.N[1])}
	for axis, step := range steps {
		if side[axis] == 1 {
			if a.Ahead[axis][n] > 0 {
				visit(a.Cells.Find(key+step) + 1)
			}
			continue
		}
		if m := a.Cells.Find(key - step); m >= 0 && a.Ahead[axis][m+1] > 0 {
			visit(m + 1)
		}
	}
}

// SetBorder makes every level reckon with the border: on the finest as given, on the
// others restricted. nil takes it away.
func (h *Hierarchy) SetBorder(d *Border) {
	for i, l := range h.levels {
		l.border = d
		if d != nil && l.down != nil {
			d = d.coarse(l.down, l.a.Cells, h.levels[i+1].a)
		}
	}
	h.factor()
}

// addDense adds B K Bᵀ to a dense matrix over all cells.
func (d *Border) addDense(a *mat.SymDense) {
	if len(d.Rows) == 0 {
		return
	}
	b := mat.NewDense(len(d.Rows), d.Width, d.B)
	var bk, full mat.Dense
	bk.Mul(b, d.K)
	full.Mul(&bk, b.T())
	for i, n := range d.Rows {
		for k, m := range d.Rows[:i+1] {
			a.SetSym(int(n)-1, int(m)-1, a.At(int(n)-1, int(m)-1)+(full.At(i, k)+full.At(k, i))/2)
		}
	}
}
