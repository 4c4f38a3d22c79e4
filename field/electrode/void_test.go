package electrode

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Both laws at 2, 5, 10, 20, 30 % gas: derived values, to the three places given.
func TestConductivityOfBubblyLiquid(t *testing.T) {
	for _, c := range []struct{ void, bruggeman, maxwell float64 }{
		{0.02, 0.970, 0.970}, {0.05, 0.926, 0.927}, {0.10, 0.854, 0.857},
		{0.20, 0.716, 0.727}, {0.30, 0.586, 0.609},
	} {
		assert.InDelta(t, c.bruggeman, Bruggeman(c.void), 0.0005)
		assert.InDelta(t, c.maxwell, Maxwell(c.void), 0.0005)
	}
	assert.Equal(t, 1.0, Bruggeman(-1))
	assert.Equal(t, 0.0, Bruggeman(2))
}

// Above 6 A of a 10 mm rod, oxygen at 0.2282 L per A h: the band kept for a curtain
// is 5 to 15 %, with 0 where nothing rises.
func TestCurtainOfAWorkingRod(t *testing.T) {
	c := UsualCurtain(0.005)
	flow := 6 * 0.2282e-3 / 3600
	assert.Greater(t, c.Void(flow), 0.05)
	assert.Less(t, c.Void(flow), 0.15)
	assert.Zero(t, c.Void(0))
	assert.Equal(t, 1.0, c.Factor(0))
	assert.Equal(t, VoidCeiling, c.Void(1))
}

func TestMoreGasNeverConductsBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := UsualCurtain(rapid.Float64Range(0.0015, 0.03).Draw(t, "radius"))
		flow := rapid.Float64Range(0, 1e-4).Draw(t, "flow")
		assert.LessOrEqual(t, c.Factor(flow*1.1), c.Factor(flow))
		assert.Greater(t, c.Factor(flow), 0.0)
	})
}

// 6 A make 0.684 L of hydrogen and oxygen an hour for each A h at 25 degC (Faraday; derived):
// 1.14e-6 m³/s. Through 0.05 m² of surface that is 2.3e-5 m/s, and bubbles that rise at
// 1.4 mm/s hold 1.6 % of the liquid below it, half as much half way up.
func TestSwarmFillsTowardsTheSurface(t *testing.T) {
	s := UsualSwarm(1.14e-6, 0.05)
	assert.InDelta(t, 0.0160, s.Void(1), 0.0002)
	assert.InEpsilon(t, s.Void(1)/2, s.Void(0.5), 0.02)
	assert.Zero(t, s.Void(-1))
	assert.InEpsilon(t, Bruggeman(s.Void(1)), s.Factor(2), 1e-12)
	assert.Zero(t, Swarm{Flow: 1, Rise: 1}.Void(1))
}
