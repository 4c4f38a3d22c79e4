package field

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/floats"

	"evenwall/field/multigrid"
)

// Solution is the answer to a Problem.
type Solution struct {
	Current   float64           // of all rods, A
	Across    float64           // over liquid and laws, V; the cell takes the dead voltage besides
	Terminal  float64           // at the clips, V
	Limited   bool              // the supply's limit holds the current
	Rods      []RodCurrent      // in the order of the anodes
	Outcome   multigrid.Outcome // of the last round; iterations of all
	Rounds    int               // of the laws' slopes and the bending next to the wall
	Balance   float64           // current into the wall over current out of the rods
	Unknowns  int
	Hierarchy string // the levels of the solver

	solver *solver
}

// RodCurrent is what one rod gives off.
type RodCurrent struct {
	Current float64 // A
	Most    float64 // greatest current density on its metal, A/m², over a length of its diameter
}

// Resistance returns the ohms between the rods and the wall, laws included; 0 at no
// current.
func (s *Solution) Resistance() float64 {
	if s.Current == 0 {
		return 0
	}
	return s.Across / s.Current
}

// mostOn returns the greatest mean current density on a rod's metal over any length of its
// diameter, A/m²: at the very edge of plastic the density has no bound.
func (s *solver) mostOn(rod int) float64 {
	var on []int
	for b := range s.body.metal {
		if s.body.bands[b].rod == rod {
			on = append(on, b)
		}
	}
	bands := s.body.bands
	slices.SortFunc(on, func(a, b int) int { return cmp.Compare(bands[a].start+bands[a].s0, bands[b].start+bands[b].s0) })
	most := 0.0
	for i := range on {
		current, area := 0.0, 0.0
		for k := i; k < len(on); k++ {
			b := &bands[on[k]]
			if last := &bands[on[max(k-1, 0)]]; k > i && b.start+b.s0 > last.start+last.s1+1e-6 {
				break
			}
			current, area = current+s.q[on[k]], area+s.body.areas[on[k]]
			if b.start+b.s1-bands[on[i]].start-bands[on[i]].s0 >= 2*b.r1 || i == 0 && k == len(on)-1 {
				most = max(most, current/area)
				break
			}
		}
	}
	return most
}

// solution collects the solver's state.
func (s *solver) solution() *Solution {
	out := &Solution{Across: s.across, Limited: s.drive.limited, Rods: make([]RodCurrent, len(s.Anodes)),
		Outcome: s.out, Rounds: s.rounds, Unknowns: s.Liquid.Len() + s.body.columns(), solver: s}
	for b, q := range s.q[:s.body.metal] {
		rod := &out.Rods[s.body.bands[b].rod]
		rod.Current += q
		out.Current += q
	}
	for i := range out.Rods {
		out.Rods[i].Most = s.mostOn(i)
	}
	if out.Current != 0 {
		out.Balance = s.intoWall(func(*contact) bool { return true }) / out.Current
	}
	out.Terminal = out.Across + s.Supply.Dead
	if s.drive.volts <= 0 {
		out.Across, out.Terminal = 0, s.Supply.Voltage
	}
	if s.levels != nil {
		out.Hierarchy = s.levels().String()
	}
	return out
}

// Potential returns the potential at every liquid cell, V: the rods' own field and what the
// rest of the tank answers.
func (s *Solution) Potential() []float64 {
	v := s.solver
	phi := make([]float64, v.Liquid.Len())
	copy(phi, v.x[1:])
	if v.body.metal == 0 {
		return phi
	}
	spread(len(v.region.cells), func(i int) {
		cell := v.region.cells[i]
		g, ok := v.region.g[cell]
		if !ok {
			g = make([]float64, v.body.columns())
			v.body.fields(v.Liquid.Point(cell), g)
			scale(g, 1/v.Conductivity)
		}
		phi[cell] = v.region.u(v.x, v.q, cell) + floats.Dot(g, v.q)
	})
	return phi
}

// WallCurrent returns the current density into each patch of r, A/m², scaled so that it
// adds up to the current that the field carries into the wall, see amend, and the closure:
// that sum before scaling over the field's.
func (s *Solution) WallCurrent(r *Recovery) (j []float64, closure float64) {
	phi := s.Potential()
	j = r.wall(phi, s.solver.bath())
	s.solver.sharpen(j, phi, r)
	return j, s.solver.amend(j, r)
}

// bath returns what the recovery needs to know of liquid and law.
func (s *solver) bath() bath {
	b := bath{kappa: s.Conductivity, law: s.wallLaw()}
	if s.Layers != nil {
		b.thinly = make([]float32, s.Liquid.Len())
		for n := range b.thinly {
			b.thinly[n] = float32(1 / s.medium().at(s.Liquid.Point(int32(n)).Z))
		}
	}
	return b
}

// intoWall returns the current that leaves the cells through the counted contacts, A.
func (s *solver) intoWall(counted func(*contact) bool) float64 {
	sum := 0.0
	s.eachInto(func(c *contact, current float64) {
		if counted(c) {
			sum += current
		}
	})
	return sum
}

// eachInto calls visit with parts of the current that leaves the cells through each contact,
// A: the link's own, and what the bending of the potential next to the wall makes of it.
func (s *solver) eachInto(visit func(c *contact, current float64)) {
	for i := range s.contacts {
		c := &s.contacts[i]
		visit(c, c.conductance(s.Conductivity)*(c.seen(s.region, s.x, s.q, s.Conductivity)-c.emf))
	}
	b := s.bending
	for i := range b.cells {
		visit(&s.contacts[b.order[b.link[i]]], -(b.source(i, s.x) + b.base[i]))
	}
	for _, r := range b.rods {
		visit(&s.contacts[b.order[b.link[r.at]]], -floats.Dot(r.row, s.q))
	}
}
