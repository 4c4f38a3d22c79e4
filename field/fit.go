package field

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// terms of the quadratic in space: 1, x, y, z, x², y², z², xy, xz, yz.
const terms = 10

// fit is the least-squares problem of one patch, kept between patches.
type fit struct {
	out   []sample
	cells []fitCell
	queue []int32
	rim   bool // the wall ends within reach: the current is singular there
}

type fitCell struct {
	cell   int32
	s      float64
	weight float64
	basis  [terms]float64
}

// closeCell is the distance from the wall, in spacings, at which a cell counts a quarter of
// a far one: phi/s there divides a small potential by a small distance.
const closeCell = 1.2

// Where the wall ends, as at an opening's rim, the current rises as one over the root of
// the distance: a quadratic overshoots, and fewer terms over fewer cells are taken.
const (
	rimRadius = 2.0
	rimOrder  = 1
)

// basis returns the terms at a point, in units of the spacing from the patch.
func basis(d geometry.Vec) [terms]float64 {
	return [terms]float64{1, d.X, d.Y, d.Z, d.X * d.X, d.Y * d.Y, d.Z * d.Z, d.X * d.Y, d.X * d.Z, d.Y * d.Z}
}

// patch appends the samples of patch i to out.
func (f *fit) patch(q *lattice.Liquid, near *nearness, all *Patches, i int) {
	p, h := &all.All[i], q.Lattice.H
	f.collect(q, near, p, fitRadius)
	for radius := fitRadius; len(f.cells) == 0 && radius < 6; radius++ {
		f.collect(q, near, p, radius+1)
	}
	if len(f.cells) == 0 {
		return
	}
	goal := [terms]float64{1} // the mean over the patch, whose centre has no first moments
	for t, m := range all.spread[i] {
		goal[4+t] = m / (h * h)
	}
	if f.rim {
		f.collect(q, near, p, rimRadius)
	}
	for _, order := range [3]int{terms, 4, 1} {
		if (len(f.cells) < order+order/2 || f.rim) && order > rimOrder {
			continue
		}
		if row, ok := f.solve(&goal, order); ok {
			for c := range f.cells {
				k := &f.cells[c]
				w := 0.0
				for t := range order {
					w += row[t] * k.basis[t]
				}
				f.out = append(f.out, sample{k.cell, float32(w * k.weight), float32(k.s)})
			}
			return
		}
	}
}

// collect lists the cells on the patch's side within the radius, in spacings.
func (f *fit) collect(q *lattice.Liquid, near *nearness, p *Patch, radius float64) {
	f.cells, f.rim = f.cells[:0], false
	l, h := &q.Lattice, q.Lattice.H
	u := l.At(p.Centre)
	lo := func(x float64) int { return int(math.Ceil(x - radius)) }
	hi := func(x float64) int { return int(math.Floor(x + radius)) }
	sheets := false
	for k := max(0, lo(u.Z)); k <= min(l.N[2]-1, hi(u.Z)); k++ {
		for j := max(0, lo(u.Y)); j <= min(l.N[1]-1, hi(u.Y)); j++ {
			for i := max(0, lo(u.X)); i <= min(l.N[0]-1, hi(u.X)); i++ {
				d := geometry.V(float64(i)-u.X, float64(j)-u.Y, float64(k)-u.Z)
				r2 := d.Dot(d)
				cell := near.wet[l.Index(i, j, k)] - 1
				if cell < 0 || r2 > radius*radius {
					continue
				}
				s, ok := near.distance(cell, p.Centre.AddScaled(d, h), p)
				if !ok {
					f.rim = f.rim || near.at[cell].aside && near.at[cell].face >= 0
					continue
				}
				sheets = sheets || near.behind[cell]
				w, near := 1-r2/(radius*radius), s/(s+closeCell*h)
				f.cells = append(f.cells, fitCell{cell, s, (w*w + 0.01) * near * near, basis(d)})
			}
		}
	}
	if sheets {
		f.keepJoined(q, near.sheets, p)
	}
}

// keepJoined drops the cells that no chain of open links among them joins to the nearest
// one on the patch's own side of the sheets: they stand behind a sheet.
func (f *fit) keepJoined(q *lattice.Liquid, s *sheets, p *Patch) {
	reach := (fitRadius + 1) * q.Lattice.H
	side := s.side(p.Centre.AddScaled(p.Normal, -1e-3*q.Lattice.H), reach)
	index := make(map[int32]int, len(f.cells))
	nearest, weight := -1, 0.0
	for i := range f.cells {
		index[f.cells[i].cell] = i
		if f.cells[i].weight > weight && s.side(q.Point(f.cells[i].cell), reach) == side {
			nearest, weight = i, f.cells[i].weight
		}
	}
	if nearest < 0 {
		return
	}
	joined := make([]bool, len(f.cells))
	joined[nearest] = true
	f.queue = append(f.queue[:0], f.cells[nearest].cell)
	for len(f.queue) > 0 {
		cell := f.queue[len(f.queue)-1]
		f.queue = f.queue[:len(f.queue)-1]
		q.EachOpen(cell, func(m int32, _ int, open float64) {
			if i, ok := index[m]; ok && !joined[i] && open >= 0.5 {
				joined[i] = true
				f.queue = append(f.queue, m)
			}
		})
	}
	kept := f.cells[:0]
	for i, c := range f.cells {
		if joined[i] {
			kept = append(kept, c)
		}
	}
	f.cells = kept
}

// absent is the part of a term that the terms before it do not say, below which it is
// rounding.
const absent = 1e-10

// solve returns the row r with r·(normal matrix) = goal over the first order terms, by
// Cholesky; false when the cells do not determine so many.
func (f *fit) solve(goal *[terms]float64, order int) (row [terms]float64, ok bool) {
	var a [terms][terms]float64
	for c := range f.cells {
		k := &f.cells[c]
		for i := range order {
			w, row := k.weight*k.basis[i], a[i][:i+1]
			basis := k.basis[:len(row)]
			for j := range row {
				row[j] += w * basis[j]
			}
		}
	}
	for j := range order {
		whole := a[j][j]
		for k := range j {
			a[j][j] -= a[j][k] * a[j][k]
		}
		if a[j][j] <= absent*whole { // all cells in one layer: the term says nothing new
			a[j][j] = 1
			for i := j + 1; i < order; i++ {
				a[i][j] = 0
			}
			goal[j] = 0
			continue
		}
		if a[j][j] <= 1e-4*whole {
			return row, false
		}
		a[j][j] = math.Sqrt(a[j][j])
		for i := j + 1; i < order; i++ {
			for k := range j {
				a[i][j] -= a[i][k] * a[j][k]
			}
			a[i][j] /= a[j][j]
		}
	}
	for i := range order {
		row[i] = goal[i]
		for k := range i {
			row[i] -= a[i][k] * row[k]
		}
		row[i] /= a[i][i]
	}
	for i := order - 1; i >= 0; i-- {
		for k := i + 1; k < order; k++ {
			row[i] -= a[k][i] * row[k]
		}
		row[i] /= a[i][i]
	}
	return row, true
}
