package vessel

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

func TestCapacityNamesTheLikelyUnit(t *testing.T) {
	assert.NoError(t, CheckCapacity(0.0124, 0.012))
	cube := func(factor float64) float64 { return factor * factor * factor }
	for want, computed := range map[string]float64{
		"set unit: in":    0.012 / cube(25.4),
		"set unit: cm":    0.0124 / cube(10),
		"set unit: m":     0.012 / cube(1000),
		"25.4 times too":  0.012 * cube(25.4),
		"check the unit ": 0.018,
	} {
		assert.ErrorContains(t, CheckCapacity(computed, 0.012), want)
	}
}

func TestVentsAreAtOpenOpenings(t *testing.T) {
	v, err := New(pumpTank(Plugged))
	require.NoError(t, err)
	v = v.Turned(geometry.Attitude(0.2, -0.1))
	at := func(x, y, z float64) geometry.Vec { return v.Turn.Apply(geometry.V(x, y, z)) }
	assert.True(t, v.Vents(at(0.11, 0.12, 0.19), 0.004))
	assert.False(t, v.Vents(at(0.11, 0.12, 0.17), 0.004), "too deep")
	assert.False(t, v.Vents(at(0.3, 0.1, 0.002), 0.004), "plugged")
}
