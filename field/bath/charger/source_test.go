package charger

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/bath"
)

// Source resistance of 12 V chargers from 15 to 16.5 V without load and 12.6 V at the
// rating: 1.2 to 2 ohm for 2 A, 0.4 to 0.6 for 6 A, 0.25 to 0.4 for 10 A, 0.2 to 0.35 for 12 A.
func TestPlainChargerByItsLabel(t *testing.T) {
	for amps, want := range map[float64][2]float64{2: {1.2, 2}, 6: {0.4, 0.65}, 10: {0.25, 0.4}, 12: {0.2, 0.35}} {
		s, err := Plain(12, amps)
		require.NoError(t, err)
		assert.InDelta(t, want[0], s.Resistance.Low, 0.02, "%g A", amps)
		assert.InDelta(t, want[1], s.Resistance.High, 0.06, "%g A", amps)
		assert.Equal(t, Rectified, s.Wave)
		assert.InDelta(t, amps/2, s.Continuous, 1e-12)
	}
	half, err := Plain(6, 6)
	require.NoError(t, err)
	assert.InDelta(t, 7.5, half.Volts.Mid, 1e-12)
}

func TestLabelsThatAreRefused(t *testing.T) {
	_, err := Plain(12, 50)
	assert.ErrorContains(t, err, "start setting")
	_, err = Plain(48, 6)
	assert.ErrorContains(t, err, "48 V")
	_, err = Plain(12, math.NaN())
	assert.Error(t, err)
	_, err = Bench(31, 5)
	assert.ErrorContains(t, err, "31 V")
	_, err = Bench(math.NaN(), 5)
	assert.Error(t, err)
	assert.ErrorContains(t, ErrSmart, "will not start")
}

// 15 V with no load and 12.6 V at 6 A: 0.4 ohm, by Ohm's law.
func TestSourceFromTwoReadings(t *testing.T) {
	s, err := FromReadings(Loaded{12.6, 6}, Loaded{15, 0})
	require.NoError(t, err)
	assert.InDelta(t, 15, s.Volts.Mid, 1e-12)
	assert.InDelta(t, 0.4, s.Resistance.Mid, 1e-12)
	_, err = FromReadings(Loaded{12, 3}, Loaded{11, 3})
	assert.Error(t, err)
	_, err = FromReadings(Loaded{12, 3}, Loaded{13, 5})
	assert.ErrorContains(t, err, "must fall")
	_, err = FromReadings(Loaded{34, 0}, Loaded{30, 5})
	assert.ErrorContains(t, err, "34 V")
}

func TestWordsHold(t *testing.T) {
	for _, text := range []string{ErrSmart.Error(), HeldByVoltage.String(), HeldByLimit.String(), HeldAtRest.String()} {
		for _, word := range []string{"safe", "clean", "done", "guaranteed", "harmless", "no risk", "gas-free"} {
			assert.NotContains(t, strings.ToLower(text), word)
		}
	}
}

// The worked whole: a plain 12 V 6 A charger, about 15 L and 0.4 m², soda from a weak to a
// strong spoon. A rod of 10 mm, 200 mm bare, in a tank like a tube of 100 mm radius has
// ln(20)/(2π·0.2 m) = 2.38 per metre; over 0.16 to 0.59 S/m that is 15 to 4 ohm, and common
// practice finds a few amps.
func TestPlainChargerGivesAFewAmps(t *testing.T) {
	s, err := Plain(12, 6)
	require.NoError(t, err)
	shape := math.Log(100.0/5) / (2 * math.Pi * 0.2)
	at := func(kappa float64) float64 {
		c := Circuit{Volts: s.Volts.Mid, Source: s.Resistance.Mid, Leads: 0.1, Dead: 2.2, Bath: shape / kappa}
		return c.Operate().Amps
	}
	dose := bath.Recipe{Product: bath.Anhydrous, Dose: 4, Temperature: bath.Kelvin(20)}
	kappa, err := dose.Conductivity()
	require.NoError(t, err)
	assert.InDelta(t, 2.5, at(kappa.Mid), 1.0)
	assert.Greater(t, at(0.59)/at(0.16), 3.0)
}
