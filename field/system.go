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
	link  float64       // conductance of an open link, S
	place map[int32]int // of a cell in Rows

	faces []float64  // B without what wall links in the region add
	inner *mat.Dense // what the region takes off the rods' own potentials, without wall links too
}

// row0 returns the cell's row of faces, new where there is none.
func (s *system) row0(cell int32) []float64 {
	i, ok := s.place[cell]
	if !ok {
		i = len(s.Rows)
		s.place[cell] = i
		s.Rows = append(s.Rows, cell+1)
		s.faces = append(s.faces, make([]float64, s.Width)...)
	}
	return s.faces[i*s.Width : (i+1)*s.Width]
}

// join builds what stays the same from round to round: B from the region's faces, M, the
// part of the rods' potential on themselves that the region's own field already holds, and
// the change of unknowns from u to u + E' q, E' the widened bands' potential. With
// x = x' + E q and E = −E' symmetry is kept when B becomes B − A E and P becomes
// P + Bᵀ E + Eᵀ B − Eᵀ A E.
func (s *system) join(r *region, q *lattice.Liquid) {
	s.place, s.Rows, s.faces = map[int32]int{}, nil, nil
	leave, outside := mat.NewDense(max(1, len(r.faces)), s.Width, nil), mat.NewDense(max(1, len(r.faces)), s.Width, nil)
	for i, f := range r.faces {
		g := r.g[f.out]
		floats.AddScaled(s.row0(f.in), -s.link*f.open, g)
		floats.AddScaledTo(leave.RawRowView(i), f.f, s.link*f.open, g)
		floats.Add(s.row0(f.out), leave.RawRowView(i))
		copy(outside.RawRowView(i), g)
	}
	s.inner = mat.NewDense(s.Width, s.Width, nil)
	s.inner.Mul(leave.T(), outside)
	s.inner.Scale(-1, s.inner)
	for i := range r.shades {
		s.shade(&r.shades[i])
	}
	s.blur(r, q)
}

// blur changes the unknowns, as far as the links between cells go.
func (s *system) blur(r *region, q *lattice.Liquid) {
	if len(r.cells) == 0 {
		return
	}
	fat, half := mat.NewDense(len(r.cells), s.Width, nil), mat.NewDense(len(r.cells), s.Width, nil)
	ae := s.spreadOut(r, q)
	for i, cell := range r.cells {
		// E = −fat, so Bᵀ E + Eᵀ B − Eᵀ A E is the symmetric part of 2 Eᵀ (B − A E / 2)
		copy(fat.RawRowView(i), r.fat[cell])
		copy(half.RawRowView(i), s.row0(cell))
		floats.AddScaled(half.RawRowView(i), 0.5, ae[cell])
	}
	var change mat.Dense
	change.Mul(fat.T(), half)
	change.Scale(-2, &change)
	s.inner.Add(s.inner, &change)
	cells := make([]int32, 0, len(ae))
	for cell := range ae {
		cells = append(cells, cell)
	}
	slices.Sort(cells)
	for _, cell := range cells {
		floats.Add(s.row0(cell), ae[cell])
	}
}

// spreadOut returns the links between cells applied to the widened bands' potential.
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
		q.EachOpen(cell, func(m int32, axis int, open float64) {
			c := open * s.link
			floats.AddScaled(own, c, r.fat[cell])
			floats.AddScaled(at(m), -c, r.fat[cell])
		})
	}
	return ae
}

// meet sets B for the contacts as they are linearised, and returns what is to be added to
// the rods' own potentials on themselves.
func (s *system) meet(r *region, contacts []contact, kappa float64) *mat.Dense {
	p := mat.DenseCopyOf(s.inner)
	s.B = append(s.B[:0], s.faces...)
	mixed, leaving, half := make([]float64, s.Width), make([]float64, s.Width), make([]float64, s.Width)
	for i := range contacts {
		c := &contacts[i]
		if c.trace == nil {
			continue
		}
		g, fat := c.conductance(kappa), r.fat[c.link.Cell]
		for b := range mixed {
			mixed[b] = c.mixed(b)
			leaving[b] = g*mixed[b] + c.trace.f[b]
			half[b] = g * (fat[b]/2 - mixed[b])
		}
		outer(p, -1, mixed, leaving)
		outer(p, -2, fat, half)
		row := s.Row(s.place[c.link.Cell])
		floats.AddScaled(row, -g, mixed)
		floats.AddScaled(row, g, fat)
	}
	return p
}

// outer adds c·u·vᵀ to m.
func outer(m *mat.Dense, c float64, u, v []float64) {
	m.RankOne(m, c, mat.NewVecDense(len(u), u), mat.NewVecDense(len(v), v))
}
