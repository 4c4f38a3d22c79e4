package charger

import "evenwall/field/bath"

// Loop is the circuit with its bands, from which the first reading is foretold.
type Loop struct {
	Source Source
	Leads  bath.Range // ohm of leads and clips
	Dead   bath.Range // V that the cell takes before current flows
	Bath   bath.Range // ohm of the cell beyond that
	Lamp   *Lamp      // in series; nil: none
}

// Readings returns what the meters should show: with everything in the middle, and with
// everything on the side of little current and of much. The last two are wider than is
// likely, since all does not err one way.
func (l Loop) Readings() (low, mid, high Reading) {
	s := l.Source
	circuit := func(volts, source, leads, dead, cell float64) Reading {
		return Circuit{Volts: volts, Source: source, Leads: leads, Limit: s.Limit, Lamp: l.Lamp, Dead: dead, Bath: cell}.Operate()
	}
	low = circuit(s.Volts.Low, s.Resistance.High, l.Leads.High, l.Dead.High, l.Bath.High)
	mid = circuit(s.Volts.Mid, s.Resistance.Mid, l.Leads.Mid, l.Dead.Mid, l.Bath.Mid)
	high = circuit(s.Volts.High, s.Resistance.Low, l.Leads.Low, l.Dead.Low, l.Bath.Low)
	return low, mid, high
}
