package field

import (
	"slices"

	"evenwall/field/multigrid"
	"evenwall/geometry/lattice"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// system is the linear problem of one round: the lattice's conductances A joined to the
// rods through B. With P the rods' own resistance, the bands' currents are
// q = P⁻¹(V − c − Bᵀx), and the cells obey (A + B K Bᵀ) x = B q₀ + r, where K is P⁻¹ as the
// supply lets it act and q₀ the currents at x = 0.
type system struct {
	a *multigrid.Operator
	multigrid.Border
	link float64 // conductance of an open link, S
}

// Times implements multigrid.Matrix: y = (A + B K Bᵀ) x.
func (s *system) Times(y, x []float64) {
	multigrid.Apply(s.a, y, x)
	multigrid.AddTo(&s.Border, y, x, 1)
}

// join builds B from the region's faces and contacts, and M, the part of the rods'
// potential on themselves that the region's own field already holds.
func (s *system) join(r *region, contacts []contact, h, kappa float64) *mat.Dense {
	index := map[int32]int{}
	s.Rows, s.B = nil, nil
	at := func(cell int32) []float64 {
		i, ok := index[cell]
		if !ok {
			i = len(s.Rows)
			index[cell] = i
			s.Rows = append(s.Rows, cell+1)
			s.B = append(s.B, make([]float64, s.Width)...)
		}
		return s.Row(i)
	}
	m := mat.NewDense(s.Width, s.Width, nil)
	mixed, leaving := make([]float64, s.Width), make([]float64, s.Width)
	for _, f := range r.faces {
		g := r.g[f.out]
		floats.AddScaled(at(f.in), -kappa*h*f.open, g)
		floats.AddScaledTo(leaving, f.f, kappa*h*f.open, g)
		floats.Add(at(f.out), leaving)
		outer(m, 1, leaving, g)
	}
	for i := range contacts {
		c := &contacts[i]
		if c.trace == nil {
			continue
		}
		g := c.conductance(kappa)
		for b := range mixed {
			mixed[b] = c.mixed(b)
			leaving[b] = g*mixed[b] + c.trace.f[b]
		}
		floats.AddScaled(at(c.link.Cell), -g, mixed)
		outer(m, 1, mixed, leaving)
	}
	return m
}

// outer adds c·u·vᵀ to m.
func outer(m *mat.Dense, c float64, u, v []float64) {
	m.RankOne(m, c, mat.NewVecDense(len(u), u), mat.NewVecDense(len(v), v))
}

// blur changes the unknowns from u to u + E' q, E' the widened bands' potential in the
// region: with x = x' + E q and E = −E', symmetry is kept when B becomes B − A E and P
// becomes P + Bᵀ E + Eᵀ B − Eᵀ A E.
func (s *system) blur(r *region, q *lattice.Liquid, p *mat.SymDense) {
	ae := s.spreadOut(r, q)
	change := mat.NewDense(s.Width, s.Width, nil)
	index := make(map[int32]int, len(s.Rows))
	for i, n := range s.Rows {
		index[n] = i
	}
	half := make([]float64, s.Width)
	for _, cell := range r.cells {
		// E = −fat, so Bᵀ E + Eᵀ B − Eᵀ A E is the symmetric part of 2 Eᵀ (B − A E / 2)
		clear(half)
		if i, ok := index[cell+1]; ok {
			copy(half, s.Row(i))
		}
		floats.AddScaled(half, 0.5, ae[cell])
		outer(change, -2, r.fat[cell], half)
	}
	p.AddSym(p, symmetric(change))
	cells := make([]int32, 0, len(ae))
	for cell := range ae {
		cells = append(cells, cell)
	}
	slices.Sort(cells)
	for _, cell := range cells {
		i, ok := index[cell+1]
		if !ok {
			i = len(s.Rows)
			s.Rows = append(s.Rows, cell+1)
			s.B = append(s.B, make([]float64, s.Width)...)
		}
		floats.Add(s.Row(i), ae[cell])
	}
}

// spreadOut returns A applied to the widened bands' potential, by cell.
func (s *system) spreadOut(r *region, q *lattice.Liquid) map[int32][]float64 {
	ae := make(map[int32][]float64, 2*len(r.cells))
	at := func(cell int32) []float64 {
		v, ok := ae[cell]
		if !ok {
			v = make([]float64, s.Width)
			ae[cell] = v
		}
		return v
	}
	for _, cell := range r.cells {
		own := at(cell)
		floats.AddScaled(own, float64(s.a.Wall[cell+1]), r.fat[cell])
		q.EachOpen(cell, func(m int32, axis int, open float64) {
			c := open * s.link
			floats.AddScaled(own, c, r.fat[cell])
			floats.AddScaled(at(m), -c, r.fat[cell])
		})
	}
	return ae
}
