package electrode

// Wagner returns the Wagner number κ · (dη/dj) / length of law at a current density j, A/m²,
// in a liquid of conductivity kappa, S/m, over a length, m, that the current has to choose
// between near and far wall: the law's resistance over the liquid's (Newman and
// Thomas-Alyea, chapter 18, from memory). Give it by local j: a wall that is ruled by
// geometry at the rod may be ruled by its law in the far corner.
func Wagner(law Law, j, kappa, length float64) float64 {
	_, slope := law.Drop(j)
	return kappa * slope / length
}

// Rule is what decides how the current spreads over a wall.
type Rule int

// The rules, from a small Wagner number to a large one. Borders at 0.1 and 5, from memory.
const (
	GeometryRules Rule = iota // below 0.1: nearly the primary distribution
	BothCount                 // between
	LawRules                  // above 5: nearly even
)

// RuleOf sorts a Wagner number.
func RuleOf(wagner float64) Rule {
	switch {
	case wagner < 0.1:
		return GeometryRules
	case wagner > 5:
		return LawRules
	}
	return BothCount
}

// String says the rule in words for a reader of the summary.
func (r Rule) String() string {
	switch r {
	case GeometryRules:
		return "geometry rules: only moving the rod evens it out"
	case LawRules:
		return "the metal's own law rules: nearly even wherever the rod is"
	}
	return "geometry and the metal's own law both count"
}
