package search

import (
	"context"

	"evenwall/geometry"
)

// Evaluator tells what a layout does to the wall. It must be fit for use by several
// goroutines at once and give the same for the same rods whenever it is asked.
type Evaluator interface {
	Evaluate(ctx context.Context, rods []geometry.Rod) (Exposure, error)
}

// Exposure is what the wall gets from one layout.
type Exposure struct {
	Current   float64   // of all rods at the operating point, A
	Rate      []float64 // current density of each patch of wall, A/m²; the patches are the same for every layout
	AtLimit   float64   // the greatest current that the supply could drive over Current, 1 or more; 0 means 1
	AnodeMost float64   // greatest current density on the rods' metal, A/m²
}

// Most returns how much more current the layout could take before the supply or the
// rods' metal sets the limit.
func (e *Exposure) Most(anodeLimit float64) float64 {
	by := max(e.AtLimit, 1)
	if e.AnodeMost > 0 {
		by = min(by, anodeLimit/e.AnodeMost)
	}
	return by
}
