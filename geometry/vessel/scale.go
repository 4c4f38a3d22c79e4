package vessel

import (
	"fmt"
	"math"
)

const (
	// scaleSlack is how far a computed capacity may be from the one stated, as a share, before
	// the scale is doubted: makers' figures leave out the expansion space. Common practice, no source.
	scaleSlack = 0.25
	// unitSlack is how near the factor on lengths must be to one between two units to name it.
	unitSlack = scaleSlack / 3
)

// fileUnits are the units that a file's numbers may count, m.
var fileUnits = [...]struct {
	name   string
	metres float64
}{{"mm", 0.001}, {"cm", 0.01}, {"m", 1}, {"in", 0.0254}}

// ScaleError says that a tank does not hold what it is known to hold.
type ScaleError struct {
	Computed, Known float64 // m³
	Factor          float64 // what all lengths would have to be multiplied by
	Unit            string  // that the numbers likely count; "" when none fits
	Typed           bool    // the numbers are sizes typed in, which are mm unless they say otherwise
	read            string  // the unit that they were read in
}

// Error implements error.
func (e *ScaleError) Error() string {
	hint := "check the unit and the capacity"
	switch gallons := gallonsFor(e.Known / e.Computed); {
	case e.Unit != "" && e.Typed:
		hint = fmt.Sprintf("the sizes are likely in %s and were read as %s: write the unit behind each, as in 30 %s", e.Unit, e.read, e.Unit)
	case e.Unit != "":
		hint = fmt.Sprintf("the numbers are likely in %s and were read as %s: set unit: %s", e.Unit, e.read, e.Unit)
	case gallons != "":
		hint = gallons
	}
	return fmt.Sprintf("the surface holds %.3g L where %.3g L is stated, lengths off by a factor of %.3g: %s",
		e.Computed*1000, e.Known*1000, e.Factor, hint)
}

// gallonsFor names the gallon that a ratio of volumes points to, or litres taken for gallons.
func gallonsFor(ratio float64) string {
	const near = 0.06
	for _, g := range [...]struct {
		name   string
		litres float64
	}{{"gal(US)", 3.785411784}, {"gal(imp)", 4.54609}} {
		switch {
		case math.Abs(ratio*g.litres-1) <= near:
			return fmt.Sprintf("the capacity is likely in %s and was given in L", g.name)
		case math.Abs(ratio/g.litres-1) <= near:
			return fmt.Sprintf("the capacity is likely in L and was given in %s", g.name)
		}
	}
	return ""
}

// CheckCapacity compares what the tank was computed to hold with what it is known to hold,
// both in m³, where a length of 1 in its numbers was read as unit metres. The error is a
// *ScaleError.
func CheckCapacity(computed, known, unit float64) error {
	if math.Abs(computed/known-1) <= scaleSlack {
		return nil
	}
	e := &ScaleError{Computed: computed, Known: known, Factor: math.Cbrt(known / computed)}
	for _, u := range fileUnits {
		if u.metres == unit {
			e.read = u.name
		}
	}
	for _, u := range fileUnits {
		if e.read != "" && u.metres != unit && math.Abs(e.Factor/(u.metres/unit)-1) <= unitSlack {
			e.Unit = u.name
		}
	}
	return e
}
