package job

// Oxygen says by which metal's law oxygen comes off a rod.
type Oxygen int

// The metals whose law the program knows.
const (
	NoOxygen   Oxygen = iota // none of the two: what film and kinetics say
	OnSteel                  // mild steel that has gone passive
	OnGraphite               // a graphite or carbon rod
)

// oxygens are the words for them.
var oxygens = []option[Oxygen]{{"steel", OnSteel}, {"graphite", OnGraphite}}

// Law is the electrode law of a wall or a rod: a film, kinetics or a metal's own law, and
// a film in series with either. The zero value takes no voltage at all (primary).
type Law struct {
	Film     float64 // potential drop over current density, ohm m²; 0: none
	Exchange float64 // A/m² in j = 2·exchange·sinh(ln 10·overpotential/slope); 0: no kinetics
	Slope    float64 // V for a factor of ten in j far from equilibrium
	Oxygen   Oxygen  // a metal's own law instead of kinetics; NoOxygen: none
}

// HasOverpotential reports whether the law has kinetics, its metal's or those given, beside
// its film.
func (l Law) HasOverpotential() bool { return l.Exchange > 0 || l.Oxygen != NoOxygen }

// defaultKinetics is hydrogen evolution on rusty mild steel in dilute alkali:
// exchange 3e-6 A/cm² and 0.12 V a decade, from textbook tables for iron (from memory),
// good to a factor of three and ±0.1 V.
var defaultKinetics = Law{Exchange: 0.03, Slope: 0.12}

func readWall(v value) Law {
	f := v.fields()
	law := readLaw(f, defaultKinetics)
	f.finish()
	return law
}

// readLaw reads the law's keys among f; without any of them it is otherwise.
func readLaw(f *fields, otherwise Law) Law {
	thick, exchange, slope, metal := f.get("film"), f.get("exchange"), f.get("slope"), f.get("law")
	if !thick.given() && !exchange.given() && !slope.given() && !metal.given() {
		return otherwise
	}
	law := Law{Film: thick.quantity(film, notNegative)}
	switch {
	case metal.given() && (exchange.given() || slope.given()):
		metal.faultf("a metal's law and kinetics of your own exclude each other: give law, or exchange and slope")
	case metal.given():
		law.Oxygen = choice(metal, oxygens)
	case exchange.given() || slope.given():
		law.Exchange = exchange.quantityOr(defaultKinetics.Exchange, density, positive)
		law.Slope = slope.quantityOr(defaultKinetics.Slope, voltage, positive)
	}
	return law
}
