package station

import (
	"fmt"
	"math"
)

// Aim is what the wall is to get. The usual figures (150 A h/m², 1 and 50 A/m², 95 %) are
// common practice, no source: a test piece from the same tank is better.
type Aim struct {
	Charge float64 // what a patch needs, C/m²
	Least  float64 // a current density below this counts as nothing, A/m²
	Most   float64 // a current density above this counts no more than this, A/m²
	Share  float64 // of the reachable area that must have its charge, 0 to 1

	Within      float64 // above 0: as much wall as possible is wanted within this time, s
	LeastCharge bool    // of what reaches the share, the least charge is wanted instead of the least time
}

// Rate returns the working rate of a patch at current density j, A/m²: nothing below
// Least, j between, Most above.
func (a Aim) Rate(j float64) float64 {
	if !(j >= a.Least) || j <= 0 {
		return 0
	}
	return math.Min(j, a.Most)
}

// Check reports a figure that no time can be computed from.
func (a Aim) Check() error {
	switch {
	case !(a.Charge > 0) || math.IsInf(a.Charge, 0):
		return fmt.Errorf("the charge that a patch needs is %g A h/m²: give one above 0", a.Charge/3600)
	case !(a.Least > 0) || !(a.Most >= a.Least) || math.IsInf(a.Most, 0):
		return fmt.Errorf("working current densities from %g to %g A/m²: give two above 0, the least first", a.Least, a.Most)
	case !(a.Share > 0 && a.Share <= 1):
		return fmt.Errorf("the share of wall aimed at is %g %%: give one above 0 and up to 100 %%", a.Share*100)
	case a.Within < 0 || math.IsInf(a.Within, 0) || math.IsNaN(a.Within):
		return fmt.Errorf("the time to keep within is %g h: give one above 0", a.Within/3600)
	}
	return nil
}
