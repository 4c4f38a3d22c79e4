package bath

import "math"

// Molar masses, kg/mol.
const (
	molarWater  = 18.015e-3
	molarIron   = 55.845e-3
	molarCarbon = 12.011e-3
	molarRust   = 88.85e-3 // FeOOH, to which dissolved iron turns
)

// WaterLost returns the water that a charge, C, takes from a bath at a temperature, K,
// in kg: split (Faraday's law) at the low end; with what the gas carries off as vapour when
// saturated in the middle; the high end, twice that vapour, allows for spray (from memory).
func WaterLost(charge, temperature float64) Range {
	split := charge / (2 * faraday) * molarWater
	gas := Evolved(charge, temperature, Atmosphere).Total() * Atmosphere / (gasConstant * temperature) // mol
	pressure := saturation(Celsius(temperature))
	vapour := gas * pressure / (Atmosphere - pressure) * molarWater
	return Range{split, split + vapour, split + 2*vapour}
}

// saturation returns the vapour pressure over water, Pa, at t degC, 0 to 60 (Alduchov and
// Eskridge 1996, from memory).
func saturation(t float64) float64 { return 610.94 * math.Exp(17.625*t/(t+243.04)) }

// RodMetal is what a rod is made of.
type RodMetal int

// The metals of which rods are made here.
const (
	SteelRod RodMetal = iota
	GraphiteRod
)

// Density returns the rod's density, kg/m³; graphite's from memory.
func (m RodMetal) Density() float64 {
	if m == GraphiteRod {
		return 1700
	}
	return 7850
}

// RodLost returns the most that a rod loses to a charge, C, kg: all of the current
// dissolving iron as Fe²⁺, or burning graphite to CO2 at 4 electrons each (Faraday's law).
// A passive steel rod in washing soda loses less, by an amount that no source gives.
func RodLost(metal RodMetal, charge float64) float64 {
	if metal == GraphiteRod {
		return charge / (4 * faraday) * molarCarbon
	}
	return charge / (2 * faraday) * molarIron
}

// Sludge returns the dry rust that a mass of dissolved iron, kg, settles as, kg: FeOOH.
func Sludge(iron float64) float64 { return iron * molarRust / molarIron }

// RodLeft returns the share of a rod's cross-section that is left when a loss, kg, is
// spread evenly over its bare length, m, of a diameter, m; 0 when the loss is all of it.
// Ends and edges go faster.
func RodLeft(metal RodMetal, diameter, bare, lost float64) float64 {
	whole := math.Pi / 4 * diameter * diameter * bare * metal.Density()
	return math.Max(0, 1-lost/whole)
}
