package search

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/station"
)

// In a long tank with its filler in the middle one rod serves both ends badly; leaning to
// one end and then to the other is quicker.
func TestPositionsInTurn(t *testing.T) {
	p, _ := problem(newBoxTank(0.7, 0.2, 0.2, 0), 0.04)
	s := unlimited()
	s.Refine = 120
	var before station.Finish
	for n := range 3 {
		s.Stations = n + 1
		r := found(t, p, s)
		require.NotEmpty(t, r.Stations)
		require.Len(t, r.Schedule.Seconds, len(r.Stations))
		if n == 0 {
			assert.Len(t, r.Stations, 1)
			assert.InDelta(t, r.Best.Verdict.Finish.Seconds, r.Schedule.Finish.Seconds, 1)
		} else {
			assert.False(t, before.Before(r.Schedule.Finish), "a position added never makes it longer")
			assert.GreaterOrEqual(t, len(r.Stations), 2)
		}
		before = r.Schedule.Finish
	}
}

// What a position saves is held against its price, both computed here from the results.
func TestAPositionMustSaveItsPrice(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	s := unlimited()
	s.Refine, s.Stations, s.Price = 120, 2, 1
	cheap := found(t, p, s)
	require.Len(t, cheap.Stations, 2)
	saved := cheap.Best.Verdict.Finish.Seconds - cheap.Schedule.Finish.Seconds
	require.Positive(t, saved)
	s.Price = saved * 1.01
	dear := found(t, p, s)
	assert.Len(t, dear.Stations, 1)
	s.Price = saved * 0.99
	assert.Len(t, found(t, p, s).Stations, 2)
}

// The schedule is that of the positions returned, each within the limits.
func TestScheduleIsOfThePositionsReturned(t *testing.T) {
	p, _ := problem(newBoxTank(0.7, 0.2, 0.2, 0), 0.04)
	s := quick()
	s.Stations = 3
	r := found(t, p, s)
	require.Greater(t, len(r.Stations), 1)
	var rates [][]float64
	for _, c := range r.Stations {
		require.Nil(t, c.Misfit)
		for i := range c.Rods {
			require.Nil(t, p.Space.Holds(&c.Rods[i]))
		}
		assert.Equal(t, Judge(r.Patches, p.Aim, &c.Exposure), c.Verdict)
		rates = append(rates, station.Threshold.Rates(p.Aim, c.Exposure.Rate))
	}
	again, err := station.Plan(r.Patches, p.Aim, rates)
	require.NoError(t, err)
	assert.Equal(t, again.Seconds, r.Schedule.Seconds)
}

// A second rod at the same time brings its own current here: it can only help.
func TestASecondRodHelps(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	p.Space.Openings[0].Diameter = 0.080
	s := quick()
	one := found(t, p, s)
	s.Count = 2
	two := found(t, p, s)
	assert.Len(t, two.Best.Rods, 2)
	assert.True(t, two.Best.Verdict.Better(one.Best.Verdict))
	assert.Equal(t, []string{"rod 1", "rod 2"}, []string{two.Best.Rods[0].Name, two.Best.Rods[1].Name})
}
