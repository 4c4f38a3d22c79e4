package field

import (
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
	Rounds    int               // of Newton's method
	Balance   float64           // current into the wall over current out of the rods
	Unknowns  int
	Hierarchy string // the levels of the solver

	solver *solver
}

// RodCurrent is what one rod gives off.
type RodCurrent struct {
	Current float64 // A
	Most    float64 // greatest current density on its metal, A/m²
}

// Resistance returns the ohms between the rods and the wall, laws included; 0 at no
// current.
func (s *Solution) Resistance() float64 {
	if s.Current == 0 {
		return 0
	}
	return s.Across / s.Current
}

// solution collects the solver's state.
func (s *solver) solution(across float64) *Solution {
	out := &Solution{Across: across, Limited: s.drive.limited, Rods: make([]RodCurrent, len(s.Anodes)),
		Outcome: s.out, Rounds: s.rounds, Unknowns: s.Liquid.Len() + s.body.metal, solver: s}
	for b, q := range s.q {
		rod := &out.Rods[s.body.bands[b].rod]
		rod.Current += q
		rod.Most = max(rod.Most, q/s.body.areas[b])
		out.Current += q
	}
	into := 0.0
	for i := range s.contacts {
		into += s.contacts[i].j * s.contacts[i].area
	}
	if out.Current != 0 {
		out.Balance = into / out.Current
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
