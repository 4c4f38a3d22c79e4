package search

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/station"
	"evenwall/geometry"
)

// Begun from the layout of least time, a search for the most wall in a day or for the least
// charge never ends with less of that.
func TestOtherAimsBetterWhatTheyAimAt(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	soonest := found(t, p, quick())
	require.True(t, soonest.Best.Verdict.Finish.Ever)
	p.Start = [][]geometry.Rod{soonest.Best.Rods}

	p.Aim.Within = soonest.Best.Verdict.Finish.Seconds / 4
	most := found(t, p, quick())
	start := soonest.Patches.Reached(p.Aim, station.Threshold.Rates(p.Aim, soonest.Best.Exposure.Rate), p.Aim.Within)
	assert.Greater(t, most.Best.Verdict.InTime, start, "a quarter of the time asks for another place")
	assert.InDelta(t, most.Best.Verdict.InTime, most.Schedule.ReachedAfter(p.Aim.Within)[0], 1e-3)
	assert.Equal(t, p.Aim.Within, most.Schedule.Total())

	p.Aim.Within, p.Aim.LeastCharge = 0, true
	least := found(t, p, quick())
	charge := func(c *Candidate) float64 {
		return meanRates{given: c.Exposure.Rate}.current(p.Area) * c.Verdict.Finish.Seconds
	}
	assert.InEpsilon(t, charge(&least.Best), least.Best.Verdict.Charge, 1e-12)
	assert.LessOrEqual(t, least.Best.Verdict.Charge, charge(&soonest.Best))
}

// By hand, on two patches of 1 m²: 2 A/m² for 3 s are 12 A s. For 1 s, and then 4 A/m² for 2 s, they are
// 20 A s, for half a second 8.
func TestAFurtherPositionTakesNoMoreCharge(t *testing.T) {
	rec := func(j float64) *record { return &record{exposure: Exposure{Rate: []float64{j, j}}} }
	r := &run{Problem: &Problem{Area: []float64{1, 1}, Aim: station.Aim{LeastCharge: true}}}
	times := func(seconds ...float64) *station.Schedule {
		return &station.Schedule{Seconds: seconds, Finish: station.Finish{Ever: true}}
	}
	r.chosen, r.schedule = []*record{rec(2)}, times(3)
	wider := []*record{rec(2), rec(4)}
	assert.InDelta(t, 12, r.charge(r.chosen, r.schedule), 1e-12)
	assert.InDelta(t, 20, r.charge(wider, times(1, 2)), 1e-12)
	assert.True(t, r.dearer(wider, times(1, 2)))
	assert.False(t, r.dearer(wider, times(1, 0.5)))
	r.schedule = &station.Schedule{Seconds: []float64{3}}
	assert.False(t, r.dearer(wider, times(1, 2)), "one that never finishes is no measure")
	r.Aim.LeastCharge, r.schedule = false, times(3)
	assert.False(t, r.dearer(wider, times(1, 2)), "where time counts")
}

// The patches about the one that the best layout gives the most are to get two thirds of it.
func TestSpareIsALimit(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	free := found(t, p, quick())
	rates, most := free.Best.Exposure.Rate, 0
	for i := range rates {
		if rates[i] > rates[most] {
			most = i
		}
	}
	limit := rates[most] / 1.5
	p.Spare = []Spared{{Patches: []int{most}, Most: limit}}
	spared := found(t, p, quick())
	assert.LessOrEqual(t, spared.Best.Exposure.Rate[most], limit)
	assert.Positive(t, spared.Tally.Misfits[NotSpared])
	assert.False(t, spared.Best.Verdict.Better(free.Best.Verdict), "a limit never makes it better")

	charge := rates[most] * free.Best.Verdict.Finish.Seconds / 1.5
	p.Spare = []Spared{{Patches: []int{most}, Charge: charge}}
	spared = found(t, p, quick())
	assert.LessOrEqual(t, spared.Best.Exposure.Rate[most]*spared.Best.Verdict.Finish.Seconds, charge)

	p.Spare = []Spared{{Patches: []int{most}, Most: 1e-6}}
	_, err := Search(context.Background(), p, quick())
	var none *NoWayError
	require.ErrorAs(t, err, &none)
	assert.Contains(t, err.Error(), "give more to wall that is to be spared than allowed")
}
