package vessel

import (
	"fmt"
	"math"
)

// scaleSlack is how far a computed capacity may be from the one stated, as a share, before
// the scale is doubted: makers' figures leave out the expansion space. Common practice, no source.
const scaleSlack = 0.25

// CheckCapacity compares what the tank was computed to hold with what it is known to hold,
// both in m³. The error names the mistake that a wrong unit would make, if one fits.
func CheckCapacity(computed, known float64) error {
	if math.Abs(computed/known-1) <= scaleSlack {
		return nil
	}
	length := math.Cbrt(known / computed) // what lengths would have to be multiplied by
	hint := "check the unit and the capacity"
	for _, f := range [...]struct {
		factor float64
		hint   string
	}{
		{25.4, "the surface is likely in inches and was read as mm: set unit: in"},
		{10, "the surface is likely in cm and was read as mm: set unit: cm"},
		{1000, "the surface is likely in m and was read as mm: set unit: m"},
		{100, "the surface is likely in m and was read as cm: set unit: m"},
		{2.54, "the surface is likely in inches and was read as cm: set unit: in"},
	} {
		for _, factor := range [2]float64{f.factor, 1 / f.factor} {
			if math.Abs(length/factor-1) <= scaleSlack/3 {
				hint = f.hint
				if factor < 1 {
					hint = fmt.Sprintf("lengths are likely %g times too large: check the unit", f.factor)
				}
			}
		}
	}
	return fmt.Errorf("the surface holds %.3g L where %.3g L is stated, lengths off by a factor of %.3g: %s",
		computed*1000, known*1000, length, hint)
}
