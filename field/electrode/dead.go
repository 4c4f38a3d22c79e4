package electrode

// Volts that a cell takes before current flows, apart from what its laws account for.
const (
	reversible = 1.23 // V, water at 25 degC, independent of pH
	phSplit    = 0.20 // V, Nernst's 59 mV per unit over 3 to 4 units between rod and wall; 0.1 to 0.3
	usualWall  = 0.30 // V, DefaultWall at 1 mA/cm²
	usualAnode = 0.49 // V, Steel at 20 mA/cm²
	usualDead  = 2.2  // V, the sum of the four, rounded: common practice, no source; ± 0.3 V
)

// Kinetic is a Law that says whether it holds an overpotential, so that the cell's
// dead voltage does not count it a second time.
type Kinetic interface {
	Law
	HasOverpotential() bool
}

// HasOverpotential reports true: the drop is an overpotential.
func (Sinh) HasOverpotential() bool { return true }

// HasOverpotential reports true: the drop is an overpotential.
func (Tafel) HasOverpotential() bool { return true }

// HasOverpotential reports true: the drop is an overpotential.
func (TwoSlope) HasOverpotential() bool { return true }

// HasOverpotential reports whether any part of s holds one.
func (s Series) HasOverpotential() bool {
	for _, law := range s {
		if HasOverpotential(law) {
			return true
		}
	}
	return false
}

// HasOverpotential reports whether law holds an overpotential. Primary, Film and any law
// that does not say so hold none.
func HasOverpotential(law Law) bool {
	k, ok := law.(Kinetic)
	return ok && k.HasOverpotential()
}

// DeadVoltage returns the volts that a cell with these two laws takes before current
// flows, beside what the laws themselves lose. With an overpotential in both it is the
// reversible voltage and the pH split, 1.43 V. With none in either it is the usual whole,
// 2.2 V. With one, 1.43 V and the usual overpotential of the electrode that has none in
// its law: 0.30 V for a wall, 0.49 V for a rod.
func DeadVoltage(wall, anode Law) float64 {
	w, a := HasOverpotential(wall), HasOverpotential(anode)
	switch {
	case w && a:
		return reversible + phSplit
	case a:
		return reversible + phSplit + usualWall
	case w:
		return reversible + phSplit + usualAnode
	}
	return usualDead
}
