package job

import (
	"fmt"

	"evenwall/field/bath/charger"
)

// Conductivities between which that of a soda bath lies, S/m: 15 % at 18 degC (Kohlrausch and Holborn, in
// older tables, from memory), and what tap water has at most, 0.08, less a margin (from memory).
const (
	mostOfSoda  = 8.4
	leastOfSoda = 0.05
)

// Warnings returns what in the job's own words makes its figures less certain.
func (j *Job) Warnings() []string {
	var out []string
	b := &j.Bath
	if b.Soda != nil && b.IsMeasured() {
		out = append(out, "bath.conductivity and bath.soda are both given: the measured conductivity is taken, the recipe only for the scales")
	}
	if b.Soda != nil && b.Soda.Bad != NoAdditive {
		out = append(out, "bath.soda.form is nothing for this bath: salt and bleach give off chlorine and pit the steel, acid eats it; sheet refuses it: use washing soda")
	}
	if b.Soda != nil && !b.Soda.Said {
		out = append(out, "bath.soda.form is not said: washing soda is sold anhydrous, as monohydrate and as decahydrate crystals, and the dose differs by a factor of 2.7 by mass and four by the spoon")
	}
	if b.Soda != nil && b.Soda.Spoon > 0 {
		out = append(out, "bath.soda.dose is a measure by volume: a level spoon of the same product weighs half or twice as much as it lies light or dense; weigh it")
	}
	if b.Meter.PPM > 0 && b.Meter.Factor == 0 {
		out = append(out, "bath.conductivity is in ppm and ppm_factor is not said: 0.5 to 0.7 are usual, it is on the meter's sheet")
	}
	switch k := b.Conductivity; {
	case k > mostOfSoda:
		out = append(out, fmt.Sprintf("bath.conductivity is %.3g S/m, more than the strongest soda solution in the tables has, %g: check the unit, 6 mS/cm is 0.6 S/m", k, mostOfSoda))
	case k > 0 && k < leastOfSoda:
		out = append(out, fmt.Sprintf("bath.conductivity is %.3g S/m, no more than tap water has: check the unit, 6 mS/cm is 0.6 S/m, or whether the soda is in", k))
	}
	if v := j.Supply.Voltage; v > charger.MostVolts {
		out = append(out, fmt.Sprintf("supply.voltage is %g V: more than the %g V that may be touched (IEC 60598): sheet refuses it", v, charger.MostVolts))
	}
	if j.Supply.Box != nil && j.Supply.Box.Lamp.Volts > 0 {
		out = append(out, "supply.lamp: the lamp counts in the readings of sheet only; elsewhere the current is that without it")
	}
	return out
}
