package job

// Law is the electrode law of a wall or a rod: a film, kinetics, or both in series.
// The zero value takes no voltage at all (primary).
type Law struct {
	Film     float64 // potential drop over current density, ohm m²; 0: none
	Exchange float64 // A/m² in j = 2·exchange·sinh(ln 10·overpotential/slope); 0: no kinetics
	Slope    float64 // V for a factor of ten in j far from equilibrium
}

// HasOverpotential reports whether the law has kinetics beside its film.
func (l Law) HasOverpotential() bool { return l.Exchange > 0 }

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
	thick, exchange, slope := f.get("film"), f.get("exchange"), f.get("slope")
	if !thick.given() && !exchange.given() && !slope.given() {
		return otherwise
	}
	law := Law{Film: thick.quantity(film, notNegative)}
	if exchange.given() || slope.given() {
		law.Exchange = exchange.quantityOr(defaultKinetics.Exchange, density, positive)
		law.Slope = slope.quantityOr(defaultKinetics.Slope, voltage, positive)
	}
	return law
}
