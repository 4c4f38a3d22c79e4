package bath

// Constants of nature (SI 2019, exact; from memory).
const (
	faraday     = 96485.33212 // C/mol
	gasConstant = 8.314462618 // J/(mol K)
)

// Atmosphere is the usual pressure of the air, Pa.
const Atmosphere = 101325

// AmpHour is an ampere for an hour, C.
const AmpHour = 3600

// Gas is dry hydrogen and oxygen: volumes, m³, or rates, m³/s, at one temperature and pressure.
type Gas struct{ Hydrogen, Oxygen float64 }

// Total returns both together.
func (g Gas) Total() float64 { return g.Hydrogen + g.Oxygen }

// Scale returns g times f.
func (g Gas) Scale(f float64) Gas { return Gas{g.Hydrogen * f, g.Oxygen * f} }

// Evolved returns the gas that a charge, C, makes when all of it makes gas (or the rate
// from a current, A), at a temperature in K and a pressure in Pa: 2 electrons a
// hydrogen, 4 an oxygen (Faraday's law, ideal gas). A steel rod that dissolves gives less oxygen.
func Evolved(charge, temperature, pressure float64) Gas {
	molar := gasConstant * temperature / pressure
	return Gas{charge / (2 * faraday) * molar, charge / (4 * faraday) * molar}
}

// MostInPocket and MostInPockets are what one pocket of the steel, and all of them
// together, may hold of this gas before a plan is refused, m³.
const (
	MostInPocket  = 50e-6
	MostInPockets = 0.3e-3
)

// Pocket is steel that traps what rises under it.
type Pocket struct {
	Volume   float64 // m³, up to where gas runs out
	Hydrogen float64 // A of the wall whose gas rises into it
	Oxygen   float64 // A of the rod whose gas rises into it
}

// Held returns the gas in the pocket after a time, s, m³, at a temperature in K: what
// has risen into it, and never more than its volume.
func (p Pocket) Held(seconds, temperature float64) float64 {
	return min(p.Volume, p.rate(temperature)*seconds)
}

// FullAfter returns the time until the pocket is full, s; +Inf when nothing rises into it.
func (p Pocket) FullAfter(temperature float64) float64 { return p.Volume / p.rate(temperature) }

func (p Pocket) rate(temperature float64) float64 {
	return Evolved(p.Hydrogen, temperature, Atmosphere).Hydrogen + Evolved(p.Oxygen, temperature, Atmosphere).Oxygen
}

// Heats of combustion of hydrogen at 25 degC, J/mol: to steam and to water. They are the
// enthalpies of formation of water (CODATA 1989, from memory).
const (
	burnToSteam = 241.826e3
	burnToWater = 285.830e3
)

// Energy returns what a volume, m³, of two parts hydrogen to one oxygen sets free when
// it burns, J, at a temperature in K and Atmosphere: to steam at the low end, to water
// at the high one. The middle is to steam, which a flash leaves.
func Energy(volume, temperature float64) Range {
	hydrogen := 2.0 / 3 * volume * Atmosphere / (gasConstant * temperature) // mol
	return Range{hydrogen * burnToSteam, hydrogen * burnToSteam, hydrogen * burnToWater}
}
