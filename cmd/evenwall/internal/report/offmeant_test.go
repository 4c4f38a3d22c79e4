package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func hoursOf(h float64) *float64 { return &h }

// A plan of 100 h with cases of made-up figures.
func made() *OffMeant {
	return &OffMeant{PositionMM: 10, TiltDeg: 3, DepthMM: 5, LevelMM: 5, ConductivityPercent: 20,
		Meant: Odd{What: "as meant", Hours: hoursOf(100), TenDays: 0.90},
		Hand:  Odd{Hours: hoursOf(160), TenDays: 0.80},
		All:   Odd{TenDays: 0.50},
		Cases: []Odd{
			{What: "the rod crusted", Matter: "crust", TenDays: 0.60},
			{What: "10 mm toward the left at the rim", Matter: "position", Size: 10, Hours: hoursOf(150), TenDays: 0.85},
			{What: "10 mm toward the right at the rim", Matter: "position", Size: 10, Hours: hoursOf(120), TenDays: 0.87},
			{What: "3 degrees, the tip toward the rear", Matter: "tilt", Size: 3, Hours: hoursOf(112), TenDays: 0.88},
			{What: "5 mm pulled up", Matter: "depth", Size: 5, Hours: hoursOf(95), TenDays: 0.92},
		}}
}

func TestWhatBeingOffCosts(t *testing.T) {
	var b table
	b.offMeant(made())
	text := b.String()
	for _, want := range []string{
		"the hand off by      10 mm at the rim, 3 degrees of lean, 5 mm of depth\n",
		"as planned           100 h; 90.0 % of the reachable wall in 10 days\n",
		"one of these off     95.0 h to never as much as planned; 60.0 % to 92.0 % of the reachable wall in 10 days\n",
		"the hand at worst    in place, lean and depth at once: 160 h; 80.0 % of",
		"all at worst         the rod's current halved by crust too: never as much as planned; 50.0 % of",
		"costs the most       the rod crusted: never as much as planned, 60.0 % of the reachable wall in 10 days instead of 90.0 %\n",
		"10 mm toward the left at the rim: 150 h instead of 100 h (5.00 h for each mm)\n",
		"3 degrees, the tip toward the rear: 112 h instead of 100 h (4.00 h for each degree)\n",
		"5 mm pulled up: costs nothing\n",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "toward the right", "the costlier side stands for both")
}

func TestNoHoursWhereThereAreNone(t *testing.T) {
	o := made()
	o.Meant.Hours, o.Cases = nil, []Odd{{What: "10 mm toward the left at the rim", Matter: "position", Size: 10, TenDays: 0.85}}
	o.HandAssumed = true
	var b table
	b.offMeant(o)
	assert.Contains(t, b.String(), "one of these off     85.0 % to 90.0 % of the reachable wall in 10 days\n")
	assert.Contains(t, b.String(), "in 10 days instead of 90.0 % (0.500 % for each mm)\n")
	assert.Contains(t, b.String(), "the usual hand, as the job states no search.tolerance of it")
}
