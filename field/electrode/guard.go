package electrode

import "math"

// Guard is a thin insulating tube around a rod, perforated all over with equal round
// holes, as a loss per area of its wall.
type Guard struct {
	Open float64 // share of the wall that is hole, above 0 and below 1
	Wall float64 // thickness, m
	Hole float64 // diameter of a hole, m
}

// Path returns the thickness of plain liquid that would lose as much as the guard, m.
// Each hole is the liquid in it and the access to both its ends, R = t/(κπa²) + 2/(4κa)
// (Hall 1975, from memory; the ends are two of Newman's disks), and holes of area πa²
// make up the open share. The access of one hole is taken as if no other were near, so the
// path is an upper bound: from 10 % too short to 30 % too long as the holes crowd.
func (g Guard) Path() float64 {
	return (g.Wall + math.Pi*g.Hole/4) / g.Open
}

// Film returns the guard as a film on its own surface, in a liquid of conductivity
// kappa, S/m.
func (g Guard) Film(kappa float64) Film { return Film{Resistance: g.Path() / kappa} }

// Validate accepts open shares of 1 to 90 %, walls to 20 mm and holes of 0.5 to 50 mm.
func (g Guard) Validate() error {
	return firstFault([]RangeError{
		{"open share of the guard", g.Open * 100, 1, 90, "%", ""},
		{"wall of the guard", g.Wall * 1000, 0, 20, "mm", "half of outside less inside"},
		{"hole of the guard", g.Hole * 1000, 0.5, 50, "mm", ""},
	})
}
