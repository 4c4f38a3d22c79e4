package field

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// region is the liquid cells round the rods that carry u, the potential less the rods'
// own: u = phi − sum over metal bands b of G_b q_b, with q_b the current of band b and G_b
// its potential in liquid that fills the half space under the surface. u is smooth where
// phi is steep. Outside the region cells carry phi itself.
//
// With the unknowns u inside and phi outside, A x = B q + the wall's own sources, and the potential that the rest of the world makes on band b is (Bᵀ x)_b +
// (M q)_b up to sign: by Green's formula over the links that leave the region and those
// that end at the wall in it. A is the lattice's matrix unchanged.
type region struct {
	cells  []int32             // numbers of the cells, ascending
	member []bool              // by cell number
	g      map[int32][]float64 // G of the metal bands, V/A, at region cells and those linked to them
	faces  []face
	walls  map[int32]trace // by index into Liquid.Walls
	shades []shade
	fat    map[int32][]float64 // at region cells: the potential of the bands widened by blurWidth, V/A
}

// face is a link that leaves the region, from its inner to its outer cell.
type face struct {
	in, out int32
	open    float64   // share of the face
	f       []float64 // current through it per current of each band
}

// trace is the rods' own field where a wall link in the region meets the wall.
type trace struct {
	g []float64 // G at the wall, V/A
	f []float64 // current through the link's face per current of each band
}

// reach returns how far from a rod's axis the region goes.
func reach(radius, h float64) float64 { return radius + math.Max(2.5*h, 8e-3) }

// newRegion finds the region round the bands and the rods' field on it. whole is the liquid with
// the links through plastic as open as if there were none.
func newRegion(q, whole *lattice.Liquid, b *body, m medium, tubes []plasticTube) *region {
	kappa := m.kappa
	r := &region{member: make([]bool, q.Len()), g: map[int32][]float64{}, walls: map[int32]trace{}}
	r.flood(q, b)
	r.leave(q, b, kappa)
	r.meet(q, b, m)
	r.shade(q, whole, b, tubes, kappa)
	r.conserve(q, b, kappa*q.Lattice.H)
	r.blur(q, b, kappa)
	return r
}

// conserve sets the rods' current through the region's faces: the difference of G over
// the link, scaled so that with what meets the wall it adds up to the band's current.
func (r *region) conserve(q *lattice.Liquid, b *body, link float64) {
	meets, crosses := make([]float64, b.columns()), make([]float64, b.columns())
	for i := range q.Walls {
		if t, ok := r.walls[int32(i)]; ok {
			floats.Add(meets, t.f)
		}
	}
	for i := range r.faces {
		f := &r.faces[i]
		f.f = make([]float64, b.columns())
		floats.SubTo(f.f, r.g[f.in], r.g[f.out])
		scale(f.f, link*f.open)
		floats.Add(crosses, f.f)
	}
	for i := range r.shades {
		if k := &r.shades[i]; k.border {
			floats.Add(crosses, k.g)
		}
	}
	for k := range crosses[:b.metal] { // a dipole gives off no current
		factor := (1 - meets[k]) / crosses[k]
		if !(math.Abs(factor-1) < mostCorrection) {
			factor = 1
		}
		for i := range r.faces {
			r.faces[i].f[k] *= factor
		}
		for i := range r.shades {
			if r.shades[i].border {
				r.shades[i].g[k] *= factor
			}
		}
	}
}

// mostCorrection is how far the discrete current through a region's border may be off
// and still be scaled: more means that a band does not lie wholly in the region.
const mostCorrection = 0.1

// within reports whether p is nearer to a band's stretch of axis than its reach.
func (b *body) within(p geometry.Vec, h float64) bool {
	for i := range b.bands {
		s := &b.bands[i]
		d := p.Sub(s.at)
		z := d.Dot(s.axis)
		off := math.Max(0, math.Max(s.s0-z, z-s.s1))
		away := d.AddScaled(s.axis, -z).Norm()
		limit := reach(math.Max(s.r0, s.r1), h)
		if off < limit && away < limit && math.Hypot(away, off) < limit {
			return true
		}
	}
	return false
}

// flood collects the cells within reach that open links join to the axis.
func (r *region) flood(q *lattice.Liquid, b *body) {
	var queue []int32
	add := func(n int32) {
		if n >= 0 && !r.member[n] && b.within(q.Point(n), q.Lattice.H) {
			r.member[n] = true
			queue = append(queue, n)
		}
	}
	for i := range b.bands {
		s := &b.bands[i]
		for z := s.s0; z <= s.s1; z += math.Max(q.Lattice.H/2, 1e-6) {
			if index, ok := q.Lattice.Nearest(s.at.AddScaled(s.axis, z)); ok {
				add(q.Find(index))
			}
		}
	}
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		q.EachOpen(n, func(m int32, _ int, _ float64) { add(m) })
	}
	for n, in := range r.member {
		if in {
			r.cells = append(r.cells, int32(n))
		}
	}
}

// leave finds the faces of the region and G at the cells on both sides of them.
func (r *region) leave(q *lattice.Liquid, b *body, kappa float64) {
	var beside []int32
	at := func(n int32) {
		if _, ok := r.g[n]; !ok {
			r.g[n] = make([]float64, b.columns())
			beside = append(beside, n)
		}
	}
	for _, n := range r.cells {
		q.EachOpen(n, func(m int32, _ int, open float64) {
			if !r.member[m] {
				r.faces = append(r.faces, face{in: n, out: m, open: open})
				at(n)
				at(m)
			}
		})
	}
	spread(len(beside), func(i int) {
		v := r.g[beside[i]]
		b.fields(q.Point(beside[i]), v)
		scale(v, 1/kappa)
	})
}

// meet finds the rods' field at the wall links of the region.
func (r *region) meet(q *lattice.Liquid, b *body, m medium) {
	h := q.Lattice.H
	for i := range q.Walls {
		k := &q.Walls[i]
		if !r.member[k.Cell] {
			continue
		}
		d := k.Direction()
		t := trace{make([]float64, b.columns()), make([]float64, b.columns())}
		b.fluxes(q.Point(k.Cell).AddScaled(d, k.Theta*h), d, t.g, t.f)
		scale(t.g, 1/m.kappa)
		scale(t.f, h*h*k.Cover*m.at(q.Point(k.Cell).Z))
		r.walls[int32(i)] = t
	}
}

// blurWidth is how much wider, in spacings, a rod's radius is made in the potential that
// the solver's vectors hold.
const blurWidth = 1.5

// blur finds the potential of the widened bands at the region's cells. The solver's vector
// holds u plus this: a potential that is smooth on the lattice and joins phi at the
// region's border, so that the multigrid cycle takes it as it takes phi.
func (r *region) blur(q *lattice.Liquid, b *body, kappa float64) {
	r.fat = make(map[int32][]float64, len(r.cells))
	for _, n := range r.cells {
		r.fat[n] = make([]float64, b.columns())
	}
	spread(len(r.cells), func(i int) {
		v := r.fat[r.cells[i]]
		b.wide(q.Point(r.cells[i]), blurWidth*q.Lattice.H, v)
		scale(v, 1/kappa)
	})
	r.pin(q, kappa)
}

// pin draws the widened potential of cells close to the wall to the rods' own at the wall:
// next to metal the sum of the two must vanish, and the closer the cell the more so.
func (r *region) pin(q *lattice.Liquid, kappa float64) {
	free := 2 * kappa * q.Lattice.H
	weight := map[int32]float64{}
	for i := range q.Walls { // in order, so that sums are the same in every run
		t, ok := r.walls[int32(i)]
		if !ok {
			continue
		}
		k := &q.Walls[i]
		if _, seen := weight[k.Cell]; !seen {
			weight[k.Cell] = free
			scale(r.fat[k.Cell], free)
		}
		w := kappa * q.Lattice.H * k.Cover / k.Theta
		floats.AddScaled(r.fat[k.Cell], w, t.g)
		weight[k.Cell] += w
	}
	for cell, w := range weight {
		scale(r.fat[cell], 1/w)
	}
}

// u returns the smooth part of the potential at a region cell, V, when the solver's vector
// is x and the bands' currents are q.
func (r *region) u(x, q []float64, cell int32) float64 {
	return x[cell+1] - floats.Dot(r.fat[cell], q)
}

func scale(v []float64, by float64) {
	for i := range v {
		v[i] *= by
	}
}
