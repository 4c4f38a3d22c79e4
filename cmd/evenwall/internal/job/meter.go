package job

import (
	"strings"

	"evenwall/field/bath"
)

// Meter is what a measured conductivity was read from. The zero value is a meter that
// shows the conductivity itself.
type Meter struct {
	Shown   float64 // S/m, of a meter that carries its reading to 25 degC; 0 otherwise
	PPM     float64 // dissolved salt, of a meter that shows ppm; 0 otherwise
	Factor  float64 // ppm for each uS/cm; 0 when not said
	Carried bool    // to 25 degC, as most meters do
}

// Range returns the conductivity behind the reading at the bath's own temperature, K, in S/m.
func (m Meter) Range(temperature float64) (bath.Range, error) {
	shown := bath.Exactly(m.Shown)
	if m.PPM > 0 {
		var err error
		if shown, err = bath.FromPPM(m.PPM, m.Factor); err != nil {
			return bath.Range{}, err
		}
	}
	if !m.Carried {
		return shown, nil
	}
	low, mid, high := bath.FromCompensated(shown.Low, temperature), bath.FromCompensated(shown.Mid, temperature), bath.FromCompensated(shown.High, temperature)
	return bath.Range{Low: low.Low, Mid: mid.Mid, High: high.High}, nil
}

// meterError is what a pocket meter with its sheet's calibration may be off by, as a share
// (common practice, no source).
const meterError = 0.05

// Kelvin returns the bath's temperature, K: 20 degC when the job does not say.
func (b *Bath) Kelvin() float64 {
	if b.Temperature > 0 {
		return b.Temperature
	}
	return bath.Kelvin(20)
}

// IsMeasured reports whether the conductivity was measured.
func (b *Bath) IsMeasured() bool { return b.Conductivity > 0 && !b.FromRecipe }

// Range returns the bath's conductivity with its band, S/m; zero when the job does not say.
func (b *Bath) Range() bath.Range {
	switch {
	case b.FromRecipe:
		r, _ := b.Soda.Conductivity(b.Kelvin()) // was read without a fault
		return r
	case b.Meter != (Meter{}):
		r, _ := b.Meter.Range(b.Kelvin()) // likewise
		return r.Union(bath.Around(b.Conductivity, meterError))
	}
	return bath.Around(b.Conductivity, meterError)
}

// readConductivity reads the measured conductivity, or takes the recipe's.
func (b *Bath) readConductivity(f *fields) {
	v, factor := f.get("conductivity"), f.get("ppm_factor")
	b.Meter.Factor = factor.quantity(ppmFactor, positive)
	b.Meter.Carried = choice(f.get("compensated"), answers) == Yes
	inPPM := strings.HasSuffix(strings.TrimSpace(v.raw()), "ppm")
	switch {
	case inPPM:
		b.Meter.PPM = v.quantity(salinity, positive)
	case b.Meter.Carried:
		b.Meter.Shown = v.quantity(conductivity, positive)
	default:
		b.Conductivity = v.quantity(conductivity, positive)
	}
	if factor.given() && !inPPM {
		factor.faultf("goes with a conductivity in ppm: leave it out")
	}
	if b.Meter.Carried && !v.given() {
		f.get("compensated").faultf("goes with a measured conductivity: leave it out")
	}
	if b.Meter != (Meter{}) && len(v.r.faults) == 0 {
		r, err := b.Meter.Range(b.Kelvin())
		if err != nil {
			v.faultf("%v", err)
		}
		b.Conductivity = r.Mid
	}
	if b.Conductivity > mostConductivity {
		v.faultf("%.3g S/m is more than any solution conducts: check the unit, 6 mS/cm is 0.6 S/m", b.Conductivity)
	}
	if !v.given() {
		b.takeRecipe(f.get("soda"))
	}
}

// mostConductivity is beyond what the best of acids conducts, S/m: some 85 (CRC Handbook of Chemistry
// and Physics, from memory).
const mostConductivity = 100.0

// takeRecipe sets the conductivity from the soda, where that is one that the tables know.
func (b *Bath) takeRecipe(v value) {
	if b.Soda == nil || b.Soda.Bad != NoAdditive || b.Soda.Dose+b.Soda.Spoon == 0 {
		return
	}
	r, err := b.Soda.Conductivity(b.Kelvin())
	if err != nil {
		v.faultf("%v", err)
		return
	}
	b.Conductivity, b.FromRecipe = r.Mid, true
}

// Reading is a pair of readings with the current on. The zero value is none.
type Reading struct {
	Volts float64 // from rod to tank, V
	Amps  float64 // A
}

func readReading(v value) Reading {
	f := v.fields()
	r := Reading{
		Volts: f.need("volts", "what the meter shows from rod to tank, such as 9.8 V").quantity(voltage, positive),
		Amps:  f.need("amps", "the current, such as 3.2 A").quantity(current, positive),
	}
	f.finish()
	return r
}
