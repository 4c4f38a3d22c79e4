package field

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"evenwall/field/multigrid"
	"evenwall/geometry"
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
		out.Hierarchy = s.levels.String()
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
// adds up to the current that the field carries into the wall, and the closure: that sum
// before scaling over the field's.
func (s *Solution) WallCurrent(r *Recovery) (j []float64, closure float64) {
	phi := s.Potential()
	s.solver.straighten(phi, r)
	j = r.Wall(phi, s.solver.Conductivity, s.solver.wallLaw())
	sum, into := 0.0, s.solver.intoWall(func(c *contact) bool { return c.held == nil })
	for i := range j {
		sum += j[i] * r.Patches.All[i].Area
	}
	if sum == 0 || into == 0 {
		return j, 1
	}
	scale(j, into/sum)
	return j, sum / into
}

// intoWall returns the current that leaves the cells through the counted contacts, A, with
// what the bending of the potential next to the wall makes of it.
func (s *solver) intoWall(counted func(*contact) bool) float64 {
	sum := 0.0
	for i := range s.contacts {
		c := &s.contacts[i]
		if !counted(c) {
			continue
		}
		sum += c.conductance(s.Conductivity) * (c.seen(s.region, s.x, s.q, s.Conductivity) - c.emf)
	}
	b := s.bending
	for i := range b.cells {
		if first := b.order[b.link[i]]; counted(&s.contacts[first]) {
			sum -= b.source(i, s.x) + b.base[i]
		}
	}
	return sum
}

// straighten replaces the potential at cells between a rod and a wall close by with one that
// rises from the wall as the fit supposes: the rods' own part by its value and slope at the
// cell's nearest point of the wall, where it is exact, in place of its steep course on the
// way to the metal.
func (s *solver) straighten(phi []float64, r *Recovery) {
	gaps := s.gaps(r.tree)
	if len(gaps) == 0 || slices.Min(gaps) >= wideGap*s.Liquid.Lattice.H {
		return
	}
	spread(len(s.region.cells), func(i int) {
		cell := s.region.cells[i]
		near := r.near.at[cell]
		if near.face < 0 || near.aside {
			return
		}
		at := s.Liquid.Point(cell)
		share := s.closeness(at, gaps)
		if share == 0 {
			return
		}
		foot, face, d := r.tree.ClosestWithin(at, 2*float64(near.dist)+1e-6)
		if face < 0 {
			return
		}
		g, f := make([]float64, s.body.columns()), make([]float64, s.body.columns())
		s.body.fluxes(foot, foot.Sub(at).Unit(), g, f)
		straight := s.region.u(s.x, s.q, cell) + (floats.Dot(g, s.q)+d*floats.Dot(f, s.q))/s.Conductivity
		phi[cell] += share * (straight - phi[cell])
	})
}

// Gaps between metal and wall, in spacings: the fit sees enough cells across the wider one,
// and too few across the narrower.
const (
	wideGap   = 2.6
	narrowGap = 1.8
)

// gaps returns the distance from each metal band to the wall, m, as far as wideGap.
func (s *solver) gaps(tree *geometry.Tree) []float64 {
	reach := wideGap * s.Liquid.Lattice.H
	out := make([]float64, s.body.metal)
	spread(len(out), func(b int) {
		k := &s.body.bands[b]
		m, _ := k.middle()
		r := math.Max(k.r0, k.r1)
		_, face, d := tree.ClosestWithin(k.at.AddScaled(k.axis, m), reach+r)
		if out[b] = reach; face >= 0 {
			out[b] = math.Min(reach, d-r)
		}
	})
	return out
}

// closeness returns 1 for a cell beside a band that is close to the wall, 0 for one beside a
// band with room.
func (s *solver) closeness(at geometry.Vec, gaps []float64) float64 {
	nearest, gap := math.Inf(1), 0.0
	for b := range gaps {
		k := &s.body.bands[b]
		m, _ := k.middle()
		if d := at.Dist(k.at.AddScaled(k.axis, m)); d < nearest {
			nearest, gap = d, gaps[b]
		}
	}
	return math.Min(1, math.Max(0, (wideGap-gap/s.Liquid.Lattice.H)/(wideGap-narrowGap)))
}
