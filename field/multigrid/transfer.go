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
	total    []float32    // residual of all children, for gather; guarded
	high     [3][]float32 // and of those on the high side along x, y, z; guarded
	linked   []uint8      // to which neighbours a coarse cell has a conductance, bit by direction; guarded
	parts    [][]kin      // the coarse cells, by the coarse level's blocks
}

// kin is coarse cells one after the other, of a stretch, and their children. Assembly knows its
// layout.
type kin struct {
	stretch
	row   [4]int32 // guarded numbers of the first one's first children, as of family
	whole bool     // all children of all of them exist
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
	t.total = make([]float32, len(keys)+2)
	for axis := range t.high {
		t.high[axis] = make([]float32, len(keys)+2)
	}
	return lattice.Number(n, keys), t
}

// whole is the mask of a family of eight.
const whole = 0xff

// arrange cuts the coarse level's stretches where families begin or cease to be whole.
func (t *transfer) arrange(coarse *Operator) {
	t.linked = make([]uint8, coarse.Len()+2)
	for n := range t.children {
		for d, c := range coarse.beside(int32(n) + 1) {
			if c > 0 {
				t.linked[n+1] |= 1 << d
			}
		}
	}
	for _, p := range coarse.all.parts {
		var all []kin
		for _, s := range p.stretches {
			for n := s.first; n < s.first+s.n; {
				f := &t.children[n-1]
				k := kin{s, f.row, f.mask == whole}
				e := n + 1
				for e < s.first+s.n && (t.children[e-1].mask == whole) == k.whole {
					e++
				}
				k.first, k.n, k.odd = n, e-n, false
				all = append(all, k)
				n = e
			}
		}
		t.parts = append(t.parts, all)
	}
}

// restrict sets the coarse right-hand side to the transpose of prolong applied to the
// fine level's residual.
func (t *transfer) restrict(coarse *Operator, coarseB, residual []float32) {
	each(len(t.parts), func(p int) {
		for i := range t.parts[p] {
			k := &t.parts[p][i]
			if k.whole {
				collect(t, k, residual)
				continue
			}
			for n := k.first; n < k.first+k.n; n++ {
				t.collectOne(n, residual)
			}
		}
	})
	each(len(coarse.all.parts), func(p int) {
		for i := range coarse.all.parts[p].stretches {
			s := &coarse.all.parts[p].stretches[i]
			if s.plain {
				gather(t, s, coarseB)
				continue
			}
			for n := s.first; n < s.first+s.n; n++ {
				t.gatherOne(s, n, coarseB)
			}
		}
	})
}

// collectOne sets what the children of coarse cell n hold in all and on each high side.
func (t *transfer) collectOne(n int32, residual []float32) {
	f := &t.children[n-1]
	var total, x, y, z float32
	for row, m := range f.row {
		var low, high float32
		switch f.mask >> (2 * row) & 3 {
		case 0:
			continue
		case 1:
			low = residual[m]
		case 2:
			high = residual[m]
		default:
			low, high = residual[m], residual[m+1]
		}
		both := low + high
		total, x = total+both, x+high
		if row&1 == 1 {
			y += both
		}
		if row>>1 == 1 {
			z += both
		}
	}
	t.total[n], t.high[0][n], t.high[1][n], t.high[2][n] = total, x, y, z
}

// gatherOne moves a quarter of what the children on one side of coarse cell n hold to the neighbour
// on that side, and takes the same from the neighbours.
func (t *transfer) gatherOne(s *stretch, n int32, b []float32) {
	links, total, sum := t.linked[n], t.total[n], float32(0)
	steps := [6]int32{-1, 1, s.step[0], s.step[1], s.step[2], s.step[3]}
	for axis, high := range t.high {
		if links>>(2*axis)&1 != 0 {
			sum += high[n+steps[2*axis]] - (total - high[n])
		}
		if links>>(2*axis)&2 != 0 {
			m := n + steps[2*axis+1]
			sum += (t.total[m] - high[m]) - high[n]
		}
	}
	b[n] = total + sum*0.25
}

// prolong adds the coarse correction to the fine level: at a child, its parent's value
// and a quarter of the difference to the three neighbours on the child's side, where
// there is a link to them. Exact for a linear function.
func (t *transfer) prolong(x, correction []float32) {
	each(len(t.parts), func(p int) {
		for i := range t.parts[p] {
			k := &t.parts[p][i]
			if k.whole && k.plain {
				raise(k, x, correction)
				continue
			}
			for n := k.first; n < k.first+k.n; n++ {
				t.raiseOne(&k.stretch, n, x, correction)
			}
		}
	})
}

// raiseOne adds to the children of coarse cell n what prolong says.
func (t *transfer) raiseOne(s *stretch, n int32, x, correction []float32) {
	links, own := t.linked[n], correction[n]
	steps := [6]int32{-1, 1, s.step[0], s.step[1], s.step[2], s.step[3]}
	var part [6]float32
	for d, step := range steps {
		if links>>d&1 != 0 {
			part[d] = (correction[n+step] - own) * 0.25
		}
	}
	f := &t.children[n-1]
	for row, m := range f.row {
		v := own + part[2+row&1] + part[4+row>>1]
		switch f.mask >> (2 * row) & 3 {
		case 1:
			x[m] += v + part[0]
		case 2:
			x[m] += v + part[1]
		case 3:
			x[m] += v + part[0]
			x[m+1] += v + part[1]
		}
	}
}

// collectPlainly does collectOne for cells of whole families, from the given one on.
func collectPlainly(t *transfer, k *kin, from int32, residual []float32) {
	for i := from; i < k.n; i++ {
		var low, high [4]float32
		for row, first := range k.row {
			low[row], high[row] = residual[first+2*i], residual[first+2*i+1]
		}
		a, b, c, d := low[0]+high[0], low[1]+high[1], low[2]+high[2], low[3]+high[3]
		n := k.first + i
		t.total[n] = (a + b) + (c + d)
		t.high[0][n] = (high[0] + high[1]) + (high[2] + high[3])
		t.high[1][n], t.high[2][n] = b+d, c+d
	}
}

// gatherPlainly does gatherOne for a plain stretch.
func gatherPlainly(t *transfer, s *stretch, b []float32) {
	total, x, y, z := t.total, t.high[0], t.high[1], t.high[2]
	for n := s.first; n < s.first+s.n; n++ {
		ahead := [3]int32{n + 1, n + s.step[1], n + s.step[3]}
		taken := ((x[n-1] + y[n+s.step[0]]) + z[n+s.step[2]]) +
			(((total[ahead[0]] - x[ahead[0]]) + (total[ahead[1]] - y[ahead[1]])) + (total[ahead[2]] - z[ahead[2]]))
		b[n] = (total[n] + taken) * 0.25
	}
}

// raisePlainly does raiseOne for cells of whole families that have all neighbours, from the given
// one on.
func raisePlainly(k *kin, from int32, x, correction []float32) {
	for i := from; i < k.n; i++ {
		n := k.first + i
		own := correction[n]
		part := func(m int32) float32 { return (correction[m] - own) * 0.25 }
		low, high := part(n-1), part(n+1)
		y := [2]float32{own + part(n+k.step[0]), own + part(n+k.step[1])}
		z := [2]float32{part(n + k.step[2]), part(n + k.step[3])}
		for row, first := range k.row {
			v := y[row&1] + z[row>>1]
			x[first+2*i] += v + low
			x[first+2*i+1] += v + high
		}
	}
}
