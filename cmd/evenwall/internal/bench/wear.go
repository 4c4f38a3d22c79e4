package bench

import (
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
)

// Wear is the most that the charge of a station takes from a rod.
type Wear struct {
	Rod    string
	Lost   float64 // kg, at most
	Left   float64 // share of the cross-section of its bare metal, at least
	Rods   int     // that the planned time takes at most, each changed at changeAt of its section
	Sludge float64 // dry rust that the iron settles as, kg, at most; 0 of graphite
}

// changeAt is the share of a rod's section at which it is changed: three quarters of its
// thickness (common practice, no source).
const changeAt = 0.5625

// Wear returns that of each rod of a station, in their order.
func (s *Station) Wear(j *job.Job) []Wear {
	metal := bath.SteelRod
	if j.Materials.Rod == job.Graphite {
		metal = bath.GraphiteRod
	}
	out := make([]Wear, len(s.Anodes))
	for i := range s.Anodes {
		a := &s.Anodes[i]
		bare := 0.0
		for _, span := range a.Bare {
			bare += span.Length()
		}
		lost := bath.RodLost(metal, s.RodAmps[i]*s.Seconds())
		whole := math.Pi * a.Radius * a.Radius * bare * metal.Density()
		out[i] = Wear{Rod: a.Name, Lost: lost, Left: bath.RodLeft(metal, 2*a.Radius, bare, lost), Rods: max(1, int(math.Ceil(lost/(whole*(1-changeAt)))))}
		if metal == bath.SteelRod {
			out[i].Sludge = bath.Sludge(lost)
		}
	}
	return out
}
