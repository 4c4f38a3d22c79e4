package vessel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// A factor near 25.4, 10, 1000, 100 or 2.54, either way, names the unit; volumes off by a
// gallon's litres name the gallon.
func TestCapacityNamesTheLikelyUnit(t *testing.T) {
	const mm, cm, m, in = 0.001, 0.01, 1, 0.0254
	assert.NoError(t, CheckCapacity(0.0124, 0.012, mm))
	for _, c := range []struct {
		right, read float64
		unit        string
	}{{in, mm, "in"}, {cm, mm, "cm"}, {m, mm, "m"}, {mm, in, "mm"}, {mm, cm, "mm"}, {mm, m, "mm"}, {in, cm, "in"}, {m, cm, "m"}} {
		for _, maker := range []float64{0.9, 1, 1.1} { // makers' figures are not exact
			err := CheckCapacity(0.012*maker*math.Pow(c.read/c.right, 3), 0.012, c.read)
			var scale *ScaleError
			require.ErrorAs(t, err, &scale)
			assert.Equal(t, c.unit, scale.Unit)
			assert.ErrorContains(t, err, "set unit: "+c.unit)
		}
	}
	assert.ErrorContains(t, CheckCapacity(0.012, 0.012/3.785, mm), "likely in gal(US) and was given in L")
	assert.ErrorContains(t, CheckCapacity(0.012, 0.012*4.546, mm), "likely in L and was given in gal(imp)")
	assert.ErrorContains(t, CheckCapacity(0.018, 0.012, mm), "check the unit and the capacity")
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
