package charger

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/bath"
)

// Gauges: mm² and mohm/m at 20 degC worked out from the copper standard; ohm per 1000 ft at
// 75 °C from the American electrical code, chapter 9, table 8 (solid 14 to 8 AWG), where the
// table has them; volts lost at 10 A over 2 m out and back. ± 5 % asked.
func TestCopperLeads(t *testing.T) {
	for gauge, want := range map[int]struct{ area, perMetre, code, lost float64 }{
		18: {0.82, 20.9, 0, 0.84}, 16: {1.31, 13.2, 0, 0.53}, 14: {2.08, 8.29, 3.07, 0.33}, 12: {3.31, 5.21, 1.93, 0.21},
		10: {5.26, 3.28, 1.21, 0.13}, 8: {8.37, 2.06, 0.764, 0.08}, 6: {13.3, 1.30, 0.491, 0.05}, 4: {21.2, 0.82, 0.308, 0.03},
	} {
		area, err := GaugeArea(gauge)
		require.NoError(t, err)
		lead := Lead{Area: area, Length: 2}
		assert.InEpsilon(t, want.area, area*1e6, 0.005, "%d AWG", gauge)
		assert.InEpsilon(t, want.perMetre, lead.PerMetre(bath.Kelvin(20))*1000, 0.01, "%d AWG", gauge)
		assert.InDelta(t, want.lost, 10*lead.Resistance(bath.Kelvin(20)).Mid, 0.0051, "%d AWG", gauge)
		if want.code > 0 {
			const foot = 0.3048
			assert.InEpsilon(t, want.code, lead.PerMetre(bath.Kelvin(75))*1000*foot, 0.05, "%d AWG", gauge)
		}
	}
	_, err := GaugeArea(-1)
	assert.ErrorContains(t, err, "-1")
}

func TestClipsAddTheirContacts(t *testing.T) {
	l := Lead{Area: 2.5e-6, Length: 2, Clips: 2}
	r := l.Resistance(bath.Kelvin(20))
	copper := 4 * 1.7241e-8 / 2.5e-6
	assert.InDelta(t, copper*0.95+0.01, r.Low, 1e-9)
	assert.InDelta(t, copper*1.05+0.10, r.High, 1e-9)
}

// Practical branch ratings: 14 AWG 15 A, 10 AWG 30 A.
func TestLeadCarries(t *testing.T) {
	fourteen, err := GaugeArea(14)
	require.NoError(t, err)
	assert.True(t, Lead{Area: fourteen}.Carries(15))
	assert.False(t, Lead{Area: fourteen}.Carries(16))
	assert.True(t, Lead{Area: 5.26e-6}.Carries(30))
	assert.False(t, Lead{Area: 1e-6}.Carries(10))
}
