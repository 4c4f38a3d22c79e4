package job

// Supply is the charger or bench supply with its leads.
type Supply struct {
	Voltage    float64 // open circuit, V; 0 when not said
	Resistance float64 // charger and leads, ohm
	Limit      float64 // A; 0: none
	Dead       float64 // V that the cell takes before current flows, when DeadGiven
	DeadGiven  bool    // false: see DeadVoltage
}

func readSupply(v value) Supply {
	f := v.fields()
	dead := f.get("dead_voltage")
	s := Supply{
		Voltage:    f.get("voltage").quantity(voltage, positive),
		Resistance: f.get("resistance").quantity(resistance, notNegative),
		Limit:      f.get("limit").quantity(current, positive),
		Dead:       dead.quantity(voltage, notNegative),
		DeadGiven:  dead.given(),
	}
	f.finish()
	return s
}

// What a cell takes before current flows, by default. Reversible voltage of water at
// 25 °C 1.23 V; pH split between the electrodes 0.2 V, by Nernst for 3 to 4 units;
// usual overpotentials at working current 0.30 V on the wall and 0.49 V on a steel
// rod. With films or nothing on both electrodes, 2.2 V in all (common practice, no
// source), within the 2.1 to 2.3 V of that sum.
const (
	deadBare  = 1.23 + 0.2 // V, both electrodes bring their own overpotential
	deadWhole = 2.2        // V, neither does
	usualWall = 0.30       // V
	usualRod  = 0.49       // V
)

// DeadVoltage returns the dead voltage, V: as given, or the default for the laws of
// the wall and the rods, in which no overpotential is counted twice. Rods of different
// laws count by the first.
func (j *Job) DeadVoltage(anodes []Anode) float64 {
	wall := j.Wall.HasOverpotential()
	rod := len(anodes) > 0 && anodes[0].Law.HasOverpotential()
	switch {
	case j.Supply.DeadGiven:
		return j.Supply.Dead
	case wall && rod:
		return deadBare
	case wall:
		return deadBare + usualRod
	case rod:
		return deadBare + usualWall
	default:
		return deadWhole
	}
}
