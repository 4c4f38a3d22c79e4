package multigrid

import (
	"evenwall/geometry/lattice"
)

// transfer joins a level to the next coarser one. Cell (I, J, K) of the coarse level
// stands for the cells 2I, 2I+1 × 2J, 2J+1 × 2K, 2K+1 of the fine one; it lives when one of
// them does, so that a thick film, which leaves the wall cells nearly insulated, meets no
// cell without a coarse correction.
type transfer struct {
	children []family
	parent   []int32      // guarded number of each fine cell's parent; guarded
	near     [6][]float32 // residual of the four children nearest to each side, for gather; guarded
}

// family is the children of a coarse cell: guarded numbers of the first child in each of
// the four x rows (y, z), (y+1, z), (y, z+1), (y+1, z+1), and which of the eight exist:
// bit 2·row for the lower x, bit 2·row+1 for the upper.
type family struct {
	row  [4]int32
	mask uint8
}

// each calls visit with the guarded number of every child and which of its sides it
// stands on: 0 low, 1 high along x, y, z.
func (f *family) each(visit func(n int32, side [3]int)) {
	for row := range 4 {
		n := f.row[row]
		for x := range 2 {
			if f.mask&(1<<(2*row+x)) != 0 {
				visit(n, [3]int{x, row & 1, row >> 1})
				n++
			}
		}
	}
}

// coarsen builds the coarse cells of a level and the transfer to them.
func coarsen(fine *lattice.Numbering) (*lattice.Numbering, *transfer) {
	n := [3]int{(fine.N[0] + 1) / 2, (fine.N[1] + 1) / 2, (fine.N[2] + 1) / 2}
	all := make([]family, n[0]*n[1]*n[2])
	for number, key := range fine.Keys {
		row := int(key) / fine.N[0]
		i, j, k := int(key)%fine.N[0], row%fine.N[1], row/fine.N[1]
		f := &all[((k/2)*n[1]+j/2)*n[0]+i/2]
		r := (k&1)*2 + j&1
		if f.mask&(3<<(2*r)) == 0 {
			f.row[r] = int32(number) + 1
		}
		f.mask |= 1 << (2*r + i&1)
	}
	t := &transfer{}
	var keys []int32
	for key := range all {
		if all[key].mask != 0 {
			keys = append(keys, int32(key))
			t.children = append(t.children, all[key])
		}
	}
	for side := range t.near {
		t.near[side] = make([]float32, len(keys)+2)
	}
	return lattice.Number(n, keys), t
}

// restrict sets the coarse right-hand side to the transpose of prolong applied to the
// fine level's residual.
func (t *transfer) restrict(coarse *Operator, coarseB, residual []float32) {
	each(len(coarse.parts), func(p int) {
		for n := coarse.parts[p].first; n < coarse.parts[p].end; n++ {
			f := &t.children[n]
			if f.mask == whole {
				coarseB[n+1] = t.restrictWhole(f, n+1, residual)
				continue
			}
			var near [6]float32
			total := float32(0)
			f.each(func(child int32, side [3]int) {
				r := residual[child]
				total += r
				near[side[0]] += r
				near[2+side[1]] += r
				near[4+side[2]] += r
			})
			coarseB[n+1] = total
			for s := range near {
				t.near[s][n+1] = near[s]
			}
		}
	})
	coarse.eachRun(func(r lattice.Run) { t.gather(coarse, r, coarseB) })
}

// whole is the mask of a family of eight.
const whole = 0xff

// restrictWhole returns the sum over eight children, and sets what those nearest to each
// side hold.
func (t *transfer) restrictWhole(f *family, n int, residual []float32) float32 {
	a, b, c, d := residual[f.row[0]:][:2], residual[f.row[1]:][:2], residual[f.row[2]:][:2], residual[f.row[3]:][:2]
	rows := [4]float32{a[0] + a[1], b[0] + b[1], c[0] + c[1], d[0] + d[1]}
	low := a[0] + b[0] + c[0] + d[0]
	total := rows[0] + rows[1] + rows[2] + rows[3]
	t.near[0][n], t.near[1][n] = low, total-low
	t.near[2][n], t.near[3][n] = rows[0]+rows[2], rows[1]+rows[3]
	t.near[4][n], t.near[5][n] = rows[0]+rows[1], rows[2]+rows[3]
	return total
}

// gather moves a quarter of what each cell's children on one side hold to the neighbour
// on that side, and takes the same from the neighbours.
func (t *transfer) gather(coarse *Operator, r lattice.Run, b []float32) {
	s := coarse.stencil(r)
	steps := [6]int32{-1, 1, r.Step[0], r.Step[1], r.Step[2], r.Step[3]}
	for n := r.First + 1; n <= r.End; n++ {
		sum := float32(0)
		for d, step := range steps {
			if s.c[d][n-1-r.First] > 0 {
				sum += t.near[d^1][n+step] - t.near[d][n]
			}
		}
		b[n] += sum / 4
	}
}

// prolong adds the coarse correction to the fine level: at a child, its parent's value
// and a quarter of the difference to the three neighbours on the child's side, where
// there is a link to them. Exact for a linear function.
func (t *transfer) prolong(coarse *Operator, x, correction []float32) {
	coarse.eachRun(func(r lattice.Run) {
		s := coarse.stencil(r)
		steps := [6]int32{-1, 1, r.Step[0], r.Step[1], r.Step[2], r.Step[3]}
		for n := r.First + 1; n <= r.End; n++ {
			own := correction[n]
			var part [6]float32
			for d, step := range steps {
				if s.c[d][n-1-r.First] > 0 {
					part[d] = (correction[n+step] - own) / 4
				}
			}
			f := &t.children[n-1]
			if f.mask == whole {
				f.raise(x, own, &part)
				continue
			}
			f.each(func(child int32, side [3]int) {
				x[child] += own + part[side[0]] + part[2+side[1]] + part[4+side[2]]
			})
		}
	})
}

// raise adds to eight children their parent's value and their shares in its sides'.
func (f *family) raise(x []float32, own float32, part *[6]float32) {
	for row, n := range f.row {
		v := own + part[2+row&1] + part[4+row>>1]
		pair := x[n:][:2]
		pair[0] += v + part[0]
		pair[1] += v + part[1]
	}
}
