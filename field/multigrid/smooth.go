package multigrid

import "evenwall/geometry/lattice"

// colour is a half of the cells: no two of a colour are neighbours.
type colour bool

const (
	red   colour = false // i+j+k even
	black colour = true  // i+j+k odd
)

// relax makes the equations of one colour's cells hold exactly, one Gauss–Seidel half
// sweep of A x = b.
func relax(a *Operator, x, b []float32, c colour) {
	a.eachRun(func(r lattice.Run) { relaxRun(a, r, x, b, c) })
}

// short is the length of a run below which cells are taken one by one: cutting a run's
// slices out of the vectors costs as much as some cells.
const short = 8

func relaxRun(a *Operator, r lattice.Run, x, b []float32, colour colour) {
	n := int(r.End - r.First)
	start := 0
	if r.Odd != bool(colour) {
		start = 1
	}
	if n < short {
		for i := r.First + 1 + int32(start); i <= r.End; i += 2 {
			relaxCell(a, i, &r.Step, x, b)
		}
		return
	}
	if m := wide(n); m > 0 {
		w := newWideRun(a, &r, x, b, a.Inverse)
		relaxWide(&w, n, start == 1)
		for i := r.First + 1 + int32(m+start); i <= r.End; i += 2 {
			relaxCell(a, i, &r.Step, x, b)
		}
		return
	}
	c, v := a.stencil(r), neighbours(x, r)
	f, e := r.First+1, r.End+1
	out := x[f:e][:n]
	rhs, d := b[f:e][:n], a.Inverse[f:e][:n]
	c0, c1, c2, c3, c4, c5 := c.c[0][:n], c.c[1][:n], c.c[2][:n], c.c[3][:n], c.c[4][:n], c.c[5][:n]
	v0, v1, v2, v3, v4, v5 := v.v[0][:n], v.v[1][:n], v.v[2][:n], v.v[3][:n], v.v[4][:n], v.v[5][:n]
	for i := start; i < n; i += 2 {
		out[i] = (rhs[i] + c0[i]*v0[i] + c1[i]*v1[i] + c2[i]*v2[i] + c3[i]*v3[i] + c4[i]*v4[i] + c5[i]*v5[i]) * d[i]
	}
}

// start sets x to what a red half sweep makes of x = 0: b over the diagonal on red
// cells, 0 on black ones.
func start(a *Operator, x, b []float32) {
	a.eachRun(func(r lattice.Run) {
		f, e := r.First+1, r.End+1
		out, rhs, d := x[f:e], b[f:e], a.Inverse[f:e]
		odd := r.Odd
		for i := range out {
			if odd {
				out[i] = 0
			} else {
				out[i] = rhs[i] * d[i]
			}
			odd = !odd
		}
	})
}

// rim is the cells in the two layers next to the wall, by colour, with where their
// neighbours stand.
type rim struct{ cells [2][]rimCell }

// rimCell is a cell of the rim: its guarded index and the differences to its neighbours
// along y and z (0: none).
type rimCell struct {
	at   int32
	step [4]int32
}

// newRim finds the cells that have a conductance to the wall, and their neighbours.
func newRim(a *Operator, walls []Wall) rim {
	near, wall := make([]bool, a.Len()+2), make([]bool, a.Len()+2)
	for i := range walls {
		wall[walls[i].Cell] = true
	}
	a.visitNeighbours(func(n, m int32) {
		if wall[n] {
			near[n], near[m] = true, true
		}
	})
	var out rim
	for _, r := range a.Cells.Runs {
		odd := r.Odd
		for n := r.First; n < r.End; n++ {
			if near[n+1] {
				which := 0
				if odd {
					which = 1
				}
				out.cells[which] = append(out.cells[which], rimCell{n + 1, r.Step})
			}
			odd = !odd
		}
	}
	return out
}

// visitNeighbours calls visit with the guarded indices of every cell and each cell that
// it has a conductance to; a cell without any is visited with itself.
func (a *Operator) visitNeighbours(visit func(n, m int32)) {
	for _, r := range a.Cells.Runs {
		s := a.stencil(r)
		for n := r.First; n < r.End; n++ {
			i := n - r.First
			visit(n+1, n+1)
			steps := [6]int32{-1, 1, r.Step[0], r.Step[1], r.Step[2], r.Step[3]}
			for d, step := range steps {
				if s.c[d][i] > 0 {
					visit(n+1, n+1+step)
				}
			}
		}
	}
}

// relaxRim does one Gauss–Seidel half sweep over one colour of the rim.
func relaxRim(a *Operator, w *rim, x, b []float32, c colour) {
	cells := w.cells[0]
	if c == black {
		cells = w.cells[1]
	}
	const block = 1 << 12
	each((len(cells)+block-1)/block, func(part int) {
		of := cells[part*block : min(len(cells), (part+1)*block)]
		for i := range of {
			relaxCell(a, of[i].at, &of[i].step, x, b)
		}
	})
}

// relaxCell makes the equation of guarded cell n hold exactly.
func relaxCell(a *Operator, n int32, step *[4]int32, x, b []float32) {
	c := a.Ahead[0]
	s := b[n] + c[n-1]*x[n-1] + c[n]*x[n+1]
	c = a.Ahead[1]
	if d := step[lattice.BackY]; d != 0 {
		s += c[n+d] * x[n+d]
	}
	if d := step[lattice.AheadY]; d != 0 {
		s += c[n] * x[n+d]
	}
	c = a.Ahead[2]
	if d := step[lattice.BackZ]; d != 0 {
		s += c[n+d] * x[n+d]
	}
	if d := step[lattice.AheadZ]; d != 0 {
		s += c[n] * x[n+d]
	}
	x[n] = s * a.Inverse[n]
}
