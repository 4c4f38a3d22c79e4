package search

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry"
)

// What is said when nothing fits: the nearest miss with its place, what it lacks, and what
// would help against that and not against something else.
func TestNoWaySaysWhatWouldHelp(t *testing.T) {
	e := &NoWayError{Tally: Tally{Count: Count{Tried: 100}}, Nearest: &Misfit{NothingBare, 0.010}, Place: Place{Tip: geometry.V(0, 0, 0.03), Radius: 0.004}}
	assert.Equal(t, "none of 100 places can be used; the nearest miss, a rod of 8.0 mm with its tip at [0.0, 0.0, 30.0] mm: "+
		"too near steel to be bare anywhere under the liquid, by 10.0 mm; what would help: 10.0 mm less of search.clearance or search.tolerance, "+
		"with spacers or a guard to keep metal off the wall, or another opening", e.Error())
	e.Nearest = &Misfit{NotThrough, 1e-6}
	assert.Contains(t, e.Error(), "does not pass the opening, by less than 0.1 mm; what would help: a thinner rod")
	e.Tally.Misfits[OverLimit], e.Excess = 40, Excess{Current: 6, Most: 1500, Limit: 1000}
	assert.Equal(t, "none of 100 places can be used: 40 fit, and their metal gives off more than 1000 A/m2 (common practice, no source), the least of them 1500 at 6.00 A; "+
		"what would help: a supply limited to 3.8 A (supply.limit), less soda, or a thicker rod (search.rods)", e.Error())
	meet := &NoWayError{Tally: Tally{Count: Count{Tried: 3}}}
	meet.Tally.Misfits[RodsMeet] = 3
	assert.Equal(t, "none of 3 places can be used, mostly: two rods meet; what would help: fewer rods at once (search.count), thinner ones, or a second opening", meet.Error())
}
