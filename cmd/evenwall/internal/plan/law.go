package plan

import (
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field"
	"evenwall/field/electrode"
)

// lawOf returns a job's electrode law as the field takes it.
func lawOf(l job.Law) electrode.Law {
	var parts electrode.Series
	if l.Film > 0 {
		parts = append(parts, electrode.Film{Resistance: l.Film})
	}
	if l.Exchange > 0 {
		parts = append(parts, electrode.Sinh{Exchange: l.Exchange, Slope: l.Slope})
	}
	switch l.Oxygen {
	case job.OnSteel:
		parts = append(parts, electrode.Steel())
	case job.OnGraphite:
		parts = append(parts, electrode.Graphite())
	}
	switch len(parts) {
	case 0:
		return electrode.Primary{}
	case 1:
		return parts[0]
	default:
		return parts
	}
}

// anodeLaw returns the law of a rod's metal with its guard tube as a film in series. The
// guard's film is referred to the metal: the same current passes a smaller surface there.
// The plain liquid that the lattice has in place of the tube's wall is taken off.
func anodeLaw(a *job.Anode, kappa float64) electrode.Law {
	law, g := lawOf(a.Law), a.Guard
	if g.Outside == 0 || kappa == 0 {
		return law
	}
	guard := electrode.Guard{Open: g.Open, Wall: g.Outside - g.Inside, Hole: g.Hole}
	middle := (g.Outside + g.Inside) / 2
	film := math.Max(0, guard.Path()-guard.Wall) / kappa * a.Radius / middle
	return electrode.Series{electrode.Film{Resistance: film}, law}
}

// supplyOf returns what drives the rods.
func supplyOf(j *job.Job, anodes []job.Anode) field.Supply {
	return field.Supply{Voltage: j.Supply.Voltage, Resistance: j.Supply.Resistance, Limit: j.Supply.Limit,
		Dead: j.DeadVoltage(anodes)}
}
