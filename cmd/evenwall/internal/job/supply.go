package job

import (
	"evenwall/field/electrode"
)

// Supply is the charger or bench supply with its leads, as the bath sees it.
type Supply struct {
	Voltage    float64 // open circuit, V; 0 when not said
	Resistance float64 // charger and leads, ohm
	Limit      float64 // A; 0: none
	Dead       float64 // V that the cell takes before current flows, when DeadGiven
	DeadGiven  bool    // false: see DeadVoltage
	Box        *Box    // what the three first figures follow from; nil: given as they are
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
	s.readBox(f)
	f.finish()
	return s
}

// kinetics is an electrode law of which only matters whether it holds an overpotential.
type kinetics bool

// Drop implements electrode.Law; it is never asked for.
func (kinetics) Drop(float64) (volts, slope float64) { return 0, 0 }

// HasOverpotential implements electrode.Kinetic.
func (k kinetics) HasOverpotential() bool { return bool(k) }

// DeadVoltage returns the dead voltage, V: as given, or the default for the laws of
// the wall and the rods, in which no overpotential is counted twice. Rods of different
// laws count by the first.
func (j *Job) DeadVoltage(anodes []Anode) float64 {
	if j.Supply.DeadGiven {
		return j.Supply.Dead
	}
	rod := len(anodes) > 0 && anodes[0].Law.HasOverpotential()
	return electrode.DeadVoltage(kinetics(j.Wall.HasOverpotential()), kinetics(rod))
}
