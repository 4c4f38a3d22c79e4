package field

import (
	"evenwall/field/multigrid"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// system is the linear problem of one round: the lattice's conductances A joined to the
// rods through B. With P the rods' own resistance, the bands' currents are
// q = P⁻¹(V − c − Bᵀx), and the cells obey (A + B K Bᵀ) x = B q₀ + r, where K is P⁻¹ as the
// supply lets it act and q₀ the currents at x = 0.
type system struct {
	a     *multigrid.Operator
	rows  []int32   // guarded numbers of the cells that B touches
	b     []float64 // their rows of B, one after the other, 1
	bands int
	k     *mat.Dense
	t, w  []float64 // scratch, a value per band
}

// row returns row i of B.
func (s *system) row(i int) []float64 { return s.b[i*s.bands : (i+1)*s.bands] }

// Times implements multigrid.Matrix: y = (A + B K Bᵀ) x.
func (s *system) Times(y, x []float64) {
	multigrid.Apply(s.a, y, x)
	s.gather(s.t, x)
	mat.NewVecDense(s.bands, s.w).MulVec(s.k, mat.NewVecDense(s.bands, s.t))
	s.spread(y, s.w)
}

// gather sets t to Bᵀ x.
func (s *system) gather(t, x []float64) {
	clear(t)
	for i, n := range s.rows {
		floats.AddScaled(t, x[n], s.row(i))
	}
}

// spread adds B q to y.
func (s *system) spread(y, q []float64) {
	for i, n := range s.rows {
		y[n] += floats.Dot(s.row(i), q)
	}
}

// join builds B from the region's faces and contacts, and M, the part of the rods'
// potential on themselves that the region's own field already holds.
func (s *system) join(r *region, contacts []contact, h, kappa float64) *mat.Dense {
	index := map[int32]int{}
	s.rows, s.b = s.rows[:0], s.b[:0]
	at := func(cell int32) []float64 {
		i, ok := index[cell]
		if !ok {
			i = len(s.rows)
			index[cell] = i
			s.rows = append(s.rows, cell+1)
			s.b = append(s.b, make([]float64, s.bands)...)
		}
		return s.row(i)
	}
	m := mat.NewDense(s.bands, s.bands, nil)
	mixed, leaving := make([]float64, s.bands), make([]float64, s.bands)
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
