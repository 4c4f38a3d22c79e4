package station

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two patches of 1 m² that need 100 A h/m² and two stations, 10 and 2 A/m² on the first,
// 2 and 6 A/m² on the second. One hour of each in turn is 6 and 4 A/m² on average: the second
// patch sets the time, 100/4 = 25 h. Three hours to one are 8 and 3 A/m²: 33 1/3 h. By hand.
func TestTimesThatAreGivenAreKeptInProportion(t *testing.T) {
	p := Patches{Area: []float64{1, 1}}
	aim := Aim{Charge: 100 * 3600, Least: 1, Most: 50, Share: 1}
	rates := [][]float64{{10, 2}, {2, 6}}
	even, err := Keep(p, aim, rates, []float64{3600, 3600})
	require.NoError(t, err)
	assert.InDelta(t, 25*3600, even.Finish.Seconds, 1e-6)
	assert.InDeltaSlice(t, []float64{12.5 * 3600, 12.5 * 3600}, even.Seconds, 1e-6)
	assert.Equal(t, []bool{true, true}, even.Needed)

	first, err := Keep(p, aim, rates, []float64{3 * 3600, 3600})
	require.NoError(t, err)
	assert.InDelta(t, 100.0/3*3600, first.Finish.Seconds, 1e-6)
}

// The times that the programme finds, kept, take what it says that they take: two routes to
// one figure.
func TestPlannedTimesKeptTakeAsLong(t *testing.T) {
	p := Patches{Area: []float64{1, 1}}
	aim := Aim{Charge: 100 * 3600, Least: 1, Most: 50, Share: 1}
	rates := [][]float64{{10, 2}, {2, 6}}
	planned, err := Plan(p, aim, rates)
	require.NoError(t, err)
	kept, err := Keep(p, aim, rates, planned.Seconds)
	require.NoError(t, err)
	assert.InEpsilon(t, planned.Finish.Seconds, kept.Finish.Seconds, 1e-12)
	assert.InDeltaSlice(t, planned.ReachedAfter(3600, 86400), kept.ReachedAfter(3600, 86400), 1e-12)
}

// A patch that no station reaches: the share of all the wall is never there.
func TestKeptTimesThatNeverReachSayNever(t *testing.T) {
	p := Patches{Area: []float64{1, 1}}
	aim := Aim{Charge: 100 * 3600, Least: 1, Most: 50, Share: 1}
	kept, err := Keep(p, aim, [][]float64{{10, 0}, {2, 0}}, []float64{3600, 7200})
	require.NoError(t, err)
	assert.False(t, kept.Finish.Ever)
	assert.Equal(t, []float64{3600, 7200}, kept.Seconds)
	_, err = Keep(p, aim, [][]float64{{1, 1}}, []float64{0})
	assert.Error(t, err)
	_, err = Keep(p, aim, [][]float64{{1}}, []float64{1})
	assert.Error(t, err)
}
