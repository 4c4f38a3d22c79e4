// Package charger holds what drives the bath: chargers by their labels, bench supplies, the
// leads, a headlamp bulb in series, and the rectified sine that plain chargers give.
//
// Everything is in SI: V, A, ohm, m; temperatures in kelvin.
package charger

import (
	"errors"
	"fmt"

	"evenwall/field/bath"
)

// MostVolts is the highest voltage of a supply that is planned for, V d.c.: the stricter
// limit for what may be touched (IEC 60598, as summarised).
const MostVolts = 30.0

// Wave is the shape of a supply's voltage.
type Wave int

// The waves.
const (
	Smooth    Wave = iota // steady direct voltage
	Rectified             // full-wave rectified sine, not smoothed: volts are means
)

// Source is a supply as the bath sees it: an open-circuit voltage behind a resistance.
type Source struct {
	Volts      bath.Range // open circuit, mean, V
	Resistance bath.Range // ohm, without leads
	Limit      float64    // A at which the supply holds the current; 0: none
	Continuous float64    // A that it should be asked for over hours; 0: not known
	Wave       Wave
}

// Plain returns an ordinary transformer charger by its label: nominal is 6, 12 or 24 V,
// amps the rating at the switch setting used. At 12 V it stands at 13.5 to 17 V mean without
// load (common practice), and falls to 12.6 V at its rating from 15 to 16.5 V, ± the
// spread of that; the others in proportion. Over hours half to two thirds of the label is
// what it can give; the lower is taken.
func Plain(nominal, amps float64) (Source, error) {
	if nominal != 6 && nominal != 12 && nominal != 24 {
		return Source{}, fmt.Errorf("a charger of %g V is not known: give 6 V, 12 V or 24 V as on its label, or the volts at its clips under two loads", nominal)
	}
	if !(amps > 0 && amps <= 20) {
		return Source{}, fmt.Errorf("a charger setting of %g A is outside 0.1 to 20 A: a start setting is for seconds only, so use a charging setting", amps)
	}
	cells := nominal / 12
	return Source{
		Volts:      bath.Range{Low: 13.5, Mid: 15, High: 17}.Scale(cells),
		Resistance: bath.Range{Low: 15 - 12.6, Mid: 15.75 - 12.6, High: 16.5 - 12.6}.Scale(cells / amps),
		Continuous: amps / 2,
		Wave:       Rectified,
	}, nil
}

// Bench returns a regulated supply set to volts and limited to amps (0: no limit).
func Bench(volts, amps float64) (Source, error) {
	s := Source{Volts: bath.Exactly(volts), Limit: amps, Continuous: amps}
	return s, CheckVolts(volts)
}

// ErrSmart is the answer for an automatic charger.
var ErrSmart = errors.New("a smart charger waits for a battery's own voltage and will not start into a bath: use a plain charger, or a bench supply with a current limit")

// Loaded is a reading at the clips.
type Loaded struct {
	Volts float64 // V
	Amps  float64 // A; 0 with nothing connected
}

// FromReadings returns the source that gives both readings, as a straight line between
// them. The readings need different currents and volts that fall as the current rises.
func FromReadings(a, b Loaded) (Source, error) {
	if a.Amps == b.Amps {
		return Source{}, fmt.Errorf("both readings are at %.3g A: take one with no load or another load", a.Amps)
	}
	resistance := (a.Volts - b.Volts) / (b.Amps - a.Amps)
	if !(resistance >= 0) {
		return Source{}, fmt.Errorf("%.3g V at %.3g A and %.3g V at %.3g A: volts at the clips must fall as the current rises, so read again", a.Volts, a.Amps, b.Volts, b.Amps)
	}
	open := a.Volts + resistance*a.Amps
	return Source{Volts: bath.Exactly(open), Resistance: bath.Exactly(resistance)}, CheckVolts(open)
}

// CheckVolts refuses a supply above MostVolts, or without voltage.
func CheckVolts(volts float64) error {
	if volts > 0 && volts <= MostVolts {
		return nil
	}
	return fmt.Errorf("a supply of %.3g V is outside 0 to %g V d.c.: use an isolated supply of lower voltage", volts, MostVolts)
}
