package job

// Warnings returns what in the job's own words makes its figures less certain.
func (j *Job) Warnings() []string {
	var out []string
	b := &j.Bath
	if b.Soda != nil && b.IsMeasured() {
		out = append(out, "bath.conductivity and bath.soda are both given: the measured conductivity is taken, the recipe only for the scales")
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
	if j.Supply.Box != nil && j.Supply.Box.Lamp.Volts > 0 {
		out = append(out, "supply.lamp: the lamp counts in the readings of sheet only; elsewhere the current is that without it")
	}
	return out
}
