package multigrid

import "evenwall/geometry/lattice"

// stretch is cells one after the other along x, whose neighbours along y and z stand at constant
// differences of numbers: where a cell has none on a side, the conductance there is 0, and the
// value that is read there belongs to some other cell. Assembly knows its layout.
type stretch struct {
	first int32    // guarded number of the first cell
	n     int32    // cells
	step  [4]int32 // to the neighbours, as of lattice.Run
	at    int32    // where its cells' figures begin in the swath's
	odd   bool     // i+j+k of the first cell is odd
	plain bool     // all six conductances of every cell are the operator's unit, that to the wall is 0, and n is a multiple of four
}

// part is a block of stretches that one goroutine sweeps at a time.
type part struct {
	stretches  []stretch
	first, end int32 // guarded numbers
}

// swath is cells that are swept, with what a sweep needs of them side by side in the order of the
// sweep, since reading it from all over the memory takes longer than all else. Plain stretches need
// nothing. Of each four cells of another, and then of each one of the rest, stand the conductances
// to the neighbours −x +x −y +y −z +z, the inverse of the diagonal, and the conductance to the wall.
type swath struct {
	parts []part
	pack  []float32
}

// packed is how many figures of a cell stand in a swath's.
const packed = 8

func newSwath(a *Operator, kinds []kind) swath {
	all := stretches(a.Cells, kinds)
	size := int32(0)
	for i := range all {
		if s := &all[i]; !s.plain {
			s.at = size
			size += packed * s.n
		}
	}
	return swath{blocks(all), make([]float32, size+1)}
}

// fill puts the figures in their places.
func (w *swath) fill(a *Operator) {
	each(len(w.parts), func(p int) {
		for _, s := range w.parts[p].stretches {
			if s.plain {
				continue
			}
			out := w.pack[s.at:]
			for i := range s.n {
				at, apart := packed*i, int32(1)
				if i < s.n&^3 {
					at, apart = packed*(i&^3)+i&3, 4
				}
				n := s.first + i
				for _, c := range a.beside(n) {
					out[at] = c
					at += apart
				}
				out[at], out[at+apart] = a.Inverse[n], a.Wall[n]
			}
		}
	})
}

// partCells is how many cells a block holds at least. It does not depend on the number
// of cores, so that sums do not either.
const partCells = 1 << 11

// plainLeast is how many plain cells make a stretch of their own.
const plainLeast = 8

// kind says how a cell is swept.
type kind int8

const (
	skipped kind = iota
	cut          // by its own conductances
	plain
)

// arrange lays out the sweeps over all cells and over the rim. All conductances between cells must
// be known.
func (a *Operator) arrange(walls []Wall) {
	a.fillBack()
	kinds := make([]kind, a.Len()+2)
	a.unit = a.commonest()
	for _, r := range a.Cells.Runs {
		inside := r.Has[0] && r.Has[1] && r.Has[2] && r.Has[3] && a.unit > 0
		for n := r.First + 1; n <= r.End; n++ {
			kinds[n] = cut
			if inside && a.uniform(n) {
				kinds[n] = plain
			}
		}
	}
	for i := range walls {
		kinds[walls[i].Cell] = cut
	}
	a.all, a.rim = newSwath(a, kinds), newSwath(a, rimKinds(a, walls))
	a.under = 1 / (a.unit + a.unit + a.unit + a.unit + a.unit + a.unit)
}

// fillBack sets the conductances to the neighbours behind from those ahead.
func (a *Operator) fillBack() {
	for _, r := range a.Cells.Runs {
		for axis := range a.back {
			if !r.Has[2*axis] {
				continue
			}
			step := r.Step[2*axis]
			copy(a.back[axis][r.First+1:r.End+1], a.Ahead[1+axis][r.First+1+step:])
		}
	}
}

// commonest returns the conductance that more than half of the links along x have, if there is
// one: that of an uncut link where the liquid is uniform. By votes (Boyer and Moore 1991).
func (a *Operator) commonest() (best float32) {
	votes := 0
	for _, c := range a.Ahead[0] {
		switch {
		case c == best:
			votes++
		case c == 0:
		case votes == 0:
			best, votes = c, 1
		default:
			votes--
		}
	}
	return best
}

// uniform reports whether all conductances of guarded cell n to its neighbours are the unit.
func (a *Operator) uniform(n int32) bool {
	g := a.unit
	return a.beside(n) == [6]float32{g, g, g, g, g, g}
}

// stretches cuts the cells, by kind of guarded number, into stretches of one kind.
func stretches(cells *lattice.Numbering, kinds []kind) []stretch {
	c := cutter{last: int32(cells.Len()) + 1}
	for _, r := range cells.Runs {
		if !r.Left {
			c.end()
		}
		for n := r.First + 1; n <= r.End; {
			e := n + 1
			for e <= r.End && kinds[e] == kinds[n] {
				e++
			}
			c.add(&r, n, e, kinds[n])
			n = e
		}
	}
	c.end()
	return c.out
}

// blocks groups stretches into parts.
func blocks(all []stretch) []part {
	var parts []part
	for len(all) > 0 {
		cells, end := all[0].n, 1
		for end < len(all) && cells < partCells {
			cells += all[end].n
			end++
		}
		last := all[end-1]
		parts = append(parts, part{all[:end:end], all[0].first, last.first + last.n})
		all = all[end:]
	}
	return parts
}

// cutter puts stretches together.
type cutter struct {
	out   []stretch
	open  stretch // n 0: none
	known [4]bool // steps of open
	last  int32   // largest number that may be read
}

func (c *cutter) end() {
	if c.open.n > 0 {
		c.out = append(c.out, c.open)
	}
	c.open, c.known = stretch{}, [4]bool{}
}

// add appends cells n to e-1 of a run.
func (c *cutter) add(r *lattice.Run, n, e int32, k kind) {
	if k == skipped {
		c.end()
		return
	}
	if k == plain && e-n >= plainLeast {
		c.end()
		size := (e - n) &^ 3
		c.out = append(c.out, stretch{first: n, n: size, step: r.Step, odd: r.OddAt(n - 1), plain: true})
		n += size
	}
	if n == e {
		return
	}
	if c.open.n == 0 || !c.joins(r, e) {
		c.end()
		c.open = stretch{first: n, odd: r.OddAt(n - 1)}
	}
	for d, has := range r.Has {
		if has {
			c.open.step[d], c.known[d] = r.Step[d], true
		}
	}
	c.open.n = e - c.open.first
}

// joins reports whether cells of the run up to e-1 can go on the open stretch: their neighbours
// stand where those of the cells before stand, and nothing beyond the vectors would be read.
func (c *cutter) joins(r *lattice.Run, e int32) bool {
	for d, has := range r.Has {
		step := c.open.step[d]
		if has {
			if c.known[d] && step != r.Step[d] {
				return false
			}
			step = r.Step[d]
		}
		if c.open.first+step < 0 || e-1+step > c.last {
			return false
		}
	}
	return true
}
