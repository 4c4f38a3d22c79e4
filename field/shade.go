package field

import (
	"slices"

	"gonum.org/v1/gonum/floats"

	"evenwall/geometry/lattice"
)

// A rod's own field goes round its own plastic, whose bands see to that, and knows nothing of other
// rods' plastic: in the rods' region, where cells carry what is left of the potential, the share of
// a link that another rod's plastic closes must take off what the field would send through it. With
// e the conductance closed and g = e times the difference of G over the link, u obeys
// A u = g q there beside what it obeys without, and by Green's formula the potential on the bands gains
// g times the difference of u, and g gᵀ q / e.

// shade is a link in the region, or out of it, that plastic closes for the fields of other rods.
type shade struct {
	in, out int32
	border  bool      // out is not in the region
	lone    [2]bool   // no open link leads to in, to out: their unknowns stand for nothing
	closed  float64   // conductance, S
	g       []float64 // what each column would send from in to out through it, A/A; of its own rod's columns 0
	at      []float64 // potential of the columns at in, likewise, V/A; of a border's only
}

// rodOf returns the rod that a column belongs to.
func (b *body) rodOf(column int) int {
	if column < b.metal {
		return b.bands[column].rod
	}
	return b.stretches[(column-b.metal)/2].rod
}

// several reports whether the bands are of more than one rod.
func (b *body) several() bool {
	return slices.ContainsFunc(b.bands, func(k band) bool { return k.rod != b.bands[0].rod })
}

// shadeKey tells links that a rod's plastic closes apart.
type shadeKey struct {
	n    int32
	axis int
	rod  int
}

// shade finds the links that plastic closes for other rods.
func (r *region) shade(q, whole *lattice.Liquid, b *body, tubes []plasticTube, kappa float64) {
	if !b.several() {
		return
	}
	known := map[shadeKey]int{}
	var rods []int
	for i := range tubes {
		t := &tubes[i]
		q.EachWithin(t.box(q.Lattice.H), func(n int32) {
			for axis := range 3 {
				m := q.Find(q.Keys[n] + q.Lattice.Step(axis))
				full := float64(whole.Open[axis][n])
				if m < 0 || full == 0 || !(r.member[n] || r.member[m]) {
					continue
				}
				closed := (1 - t.passes(q, n, axis)) * full * kappa * q.Lattice.H
				if closed == 0 {
					continue
				}
				key := shadeKey{n, axis, t.rod}
				if k, ok := known[key]; ok { // where two legs of a bent rod meet
					r.shades[k].closed = max(r.shades[k].closed, closed)
					continue
				}
				known[key] = len(r.shades)
				k := shade{in: n, out: m, border: !r.member[n] || !r.member[m], closed: closed}
				if !r.member[n] {
					k.in, k.out = m, n
				}
				r.shades, rods = append(r.shades, k), append(rods, t.rod)
			}
		})
	}
	r.throw(q, whole, b, tubes, rods, kappa)
}

// throw sets what the columns would send through the shades, of the given rods' plastic.
func (r *region) throw(q, whole *lattice.Liquid, b *body, tubes []plasticTube, rods []int, kappa float64) {
	g := r.beside(q, whole, b, tubes, kappa)
	for i := range r.shades {
		k := &r.shades[i]
		k.lone = [2]bool{alone(q, k.in), alone(q, k.out)}
		k.g, k.at = make([]float64, b.columns()), make([]float64, b.columns())
		for c := range k.g {
			if b.rodOf(c) != rods[i] {
				k.at[c] = g[k.in][c]
				k.g[c] = k.closed * (k.at[c] - g[k.out][c])
			}
		}
	}
}

// beside returns the columns' potential, V/A, at the cells that shades join, levelled inside
// plastic.
func (r *region) beside(q, whole *lattice.Liquid, b *body, tubes []plasticTube, kappa float64) map[int32][]float64 {
	g := map[int32][]float64{}
	var cells, inside []int32
	at := func(n int32) {
		if _, ok := g[n]; !ok {
			g[n] = make([]float64, b.columns())
			cells = append(cells, n)
		}
	}
	for i := range r.shades {
		at(r.shades[i].in)
		at(r.shades[i].out)
	}
	for _, n := range cells {
		if slices.ContainsFunc(tubes, func(t plasticTube) bool { return t.holds(q.Point(n)) }) {
			inside = append(inside, n)
		}
	}
	for _, n := range inside {
		whole.EachOpen(n, func(m int32, _ int, _ float64) { at(m) })
	}
	spread(len(cells), func(i int) {
		v := g[cells[i]]
		b.fields(q.Point(cells[i]), v)
		scale(v, 1/kappa)
	})
	level(g, inside, whole)
	return g
}

// alone reports whether no open link leads to a cell.
func alone(q *lattice.Liquid, n int32) bool {
	lone := true
	q.EachOpen(n, func(int32, int, float64) { lone = false })
	return lone
}

// levelled is how often the cells inside plastic are gone through: a tube is a few cells across.
const levelled = 40

// level makes fields g at cells inside plastic obey the lattice's own equation, and not only
// Laplace's: nothing leads out of such a cell, and what it is given must add up to nothing.
func level(g map[int32][]float64, inside []int32, whole *lattice.Liquid) {
	for range levelled {
		for _, n := range inside {
			v, sum := g[n], 0.0
			clear(v)
			whole.EachOpen(n, func(m int32, _ int, open float64) {
				sum += open
				floats.AddScaled(v, open, g[m])
			})
			if sum > 0 {
				scale(v, 1/sum)
			}
		}
	}
}

// shade adds a link that plastic closes for other rods.
func (s *system) shade(k *shade) {
	if !k.lone[0] {
		floats.Add(s.row0(k.in), k.g)
	}
	if k.border {
		outer(s.inner, 1, k.at, k.g)
		return
	}
	if !k.lone[1] {
		floats.Sub(s.row0(k.out), k.g)
	}
	outer(s.inner, 1/k.closed, k.g, k.g)
}
