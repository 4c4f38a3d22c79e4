package plan

import "fmt"

// manyHoles is the share of wall links, as one in so many, that may end in holes of the
// surface unsaid: lines that run along an edge miss both its facets now and then.
const manyHoles = 500

// warnings says what the reader of a field's figures must know.
func (s *Solved) warnings() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	supply := supplyOf(s.Basin.Job, s.Anodes)
	if supply.Voltage <= supply.Dead {
		say("no current: the supply gives %.2f V and the cell takes %.2f V before any flows: use a supply of more volts", supply.Voltage, supply.Dead)
		return out
	}
	if s.unsettled() {
		say("the solver %v (residual %.1e): the figures are only a first look", s.Outcome.Status, s.Outcome.Residual)
	}
	if name, most := s.strongest(); most > mostOnAnode {
		say("rod %q gives off up to %.0f A/m2 of its metal, more than %d A/m2 (common practice, no source): bare more of it or use a thicker rod", name, most, mostOnAnode)
	}
	if least := s.Basin.Job.Aim.Least; s.Even.Below(least) >= 1 {
		say("no wall gets the %.3g A/m2 below which it hardly changes (aim.least): more volts, more soda, or more bare metal", least)
	}
	if s.Closure < 0.98 || s.Closure > 1.02 {
		say("the wall's current adds up to %.1f %% of the field's before it is scaled: somewhere steel is rough, or has an edge finer than the lattice of %.1f mm; wall near such places is the least certain",
			100*s.Closure, 1000*s.Basin.Laid.Liquid.Lattice.H)
	}
	if q := s.Basin.Laid.Liquid; q.Holes > len(q.Walls)/manyHoles {
		say("%d links of the lattice leave the tank through holes in the surface: they were closed as wall", q.Holes)
	}
	return out
}
