package charger

import (
	"fmt"
	"math"

	"evenwall/field/bath"
)

// Copper at 20 degC: the International Annealed Copper Standard (1913), from memory.
const (
	copperResistivity = 1.7241e-8 // ohm m
	copperPerKelvin   = 0.00393   // of the value at 20 degC
)

// Lead is a pair of copper leads, out and back.
type Lead struct {
	Area   float64 // of copper in one lead, m²
	Length float64 // of one lead, m
	Clips  int     // joints in the loop, clip to metal
}

// GaugeArea returns the copper in an American wire gauge, m²: 0.127 mm · 92^((36 − n)/39)
// in diameter (the gauge's definition, from memory). Gauges 0 to 40 are known.
func GaugeArea(gauge int) (float64, error) {
	if gauge < 0 || gauge > 40 {
		return 0, fmt.Errorf("wire gauge %d is outside 0 to 40: give the copper in mm2", gauge)
	}
	diameter := 0.127e-3 * math.Pow(92, float64(36-gauge)/39)
	return math.Pi / 4 * diameter * diameter, nil
}

// PerMetre returns the resistance of a metre of one lead, ohm/m, at a temperature, K.
func (l Lead) PerMetre(temperature float64) float64 {
	return copperResistivity / l.Area * (1 + copperPerKelvin*(bath.Celsius(temperature)-20))
}

// Resistance returns that of the loop at a temperature, K, in ohm: copper ± 5 % and
// 5 to 50 mohm a clip (from memory).
func (l Lead) Resistance(temperature float64) bath.Range {
	copper := bath.Around(2*l.Length*l.PerMetre(temperature), 0.05)
	return copper.Plus(bath.Range{Low: 0.005, Mid: 0.02, High: 0.05}.Scale(float64(l.Clips)))
}

// ratings are branch ratings as wired in practice: copper of at least area, m², may carry
// amps.
func ratings() []struct{ area, amps float64 } {
	return []struct{ area, amps float64 }{
		{2.08e-6, 15}, {3.31e-6, 20}, {5.26e-6, 30}, {8.37e-6, 40}, {13.3e-6, 55}, {21.2e-6, 70},
	}
}

// Carries reports whether a lead of that much copper, m², is wired for amps in practice.
// Copper under 2.08 mm² counts in proportion to the smallest that is rated.
func (l Lead) Carries(amps float64) bool {
	smallest := ratings()[0]
	rated := smallest.amps * math.Min(1, l.Area/smallest.area)
	for _, r := range ratings() {
		if l.Area >= r.area*0.995 { // gauges are rounded to three digits
			rated = r.amps
		}
	}
	return amps <= rated
}
