package bath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// 2000 ppm on the two usual scales: 4.0 and 2.86 mS/cm by the definition of the factor.
func TestFromPPM(t *testing.T) {
	k, err := FromPPM(2000, 0.5)
	require.NoError(t, err)
	assert.InDelta(t, 0.40, k.Mid, 1e-12)
	k, err = FromPPM(2000, 0)
	require.NoError(t, err)
	assert.InDelta(t, 0.40, k.High, 1e-12)
	assert.InDelta(t, 0.2857, k.Low, 1e-4)
	_, err = FromPPM(2000, 500)
	assert.ErrorContains(t, err, "500 ppm per uS/cm")
	_, err = FromPPM(2000, math.NaN())
	assert.Error(t, err)
}

func TestFromCompensated(t *testing.T) {
	assert.Equal(t, Exactly(0.6), FromCompensated(0.6, Kelvin(25)))
	cold := FromCompensated(0.6, Kelvin(15))
	assert.InDelta(t, 0.48, cold.Mid, 1e-12)
	assert.True(t, cold.Low < cold.Mid && cold.Mid < cold.High)
}

// A bath of 2.0 ohm at 0.5 S/m has a shape of 1.0 per metre: 3 A through it take 6 V.
func TestFromCell(t *testing.T) {
	k, err := FromCell(1.0, 8.2, 2.2, 3)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, k, 1e-12)
	_, err = FromCell(1.0, -8, 2.2, -3)
	assert.ErrorContains(t, err, "reversed leads")
	_, err = FromCell(1.0, 2, 2.2, 0)
	assert.ErrorContains(t, err, "dry joint")
}
