package station

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// By hand: of two patches alike the first counts three times. It is three quarters of the wall,
// so that its rate alone makes the time for 75 %; alike, the slower one does.
func TestWeightsByHand(t *testing.T) {
	alike := Patches{Area: []float64{1, 1}}
	heavy := Patches{Area: []float64{1, 1}, Weight: []float64{3, 1}}
	rates := []float64{10, 2}
	assert.InDelta(t, 75*hour, alike.Finish(aimFor(0.75), rates).Seconds, 1e-6)
	assert.InDelta(t, 15*hour, heavy.Finish(aimFor(0.75), rates).Seconds, 1e-6)
	assert.InDelta(t, 0.75, heavy.Reached(aimFor(1), rates, 20*hour), 1e-12)
	assert.InDelta(t, 2.0, heavy.ReachableArea(), 1e-12, "the area itself has no weight")
	s, err := Plan(heavy, aimFor(0.75), [][]float64{rates})
	require.NoError(t, err)
	assert.InDelta(t, 15*hour, s.Total(), 1e-3)
}

// By hand: two stations serve a patch each at 2 A/m², 75 h for 150 A h/m². In 75 h one of the
// two is served, in 150 h both.
func TestMostWallInAGivenTimeByHand(t *testing.T) {
	p, a := Patches{Area: []float64{1, 1}}, aimFor(1)
	for hours, share := range map[float64]float64{76: 0.5, 151: 1} {
		a.Within = hours * hour
		s, err := Plan(p, a, [][]float64{{2, 0}, {0, 2}})
		require.NoError(t, err)
		assert.InDelta(t, hours*hour, s.Total(), 1e-3)
		assert.InDelta(t, share, s.ReachedAfter(a.Within)[0], 1e-12)
	}
	a.Within = hour
	s, err := Plan(p, a, [][]float64{{2, 0}, {0, 2}})
	require.NoError(t, err, "a time too short for any patch")
	assert.InDelta(t, hour, s.Total(), 1e-6)
}
