package bath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Litres per ampere hour, worked out from F = 96485.33 C/mol and the ideal gas, to the four
// digits given; EN 50272-2 itself uses 0.42e-3 m³/(A h).
func TestFaradayVolumes(t *testing.T) {
	for _, c := range []struct{ celsius, kPa, hydrogen float64 }{
		{0, 101.325, 0.4181}, {20, 101.325, 0.4488}, {25, 101.325, 0.4564}, {0, 100, 0.4237}, {25, 100, 0.4625},
	} {
		g := Evolved(AmpHour, Kelvin(c.celsius), c.kPa*1000)
		assert.InDelta(t, c.hydrogen, g.Hydrogen/Litre, 0.00005, "%+v", c)
	}
	g := Evolved(AmpHour, Kelvin(25), Atmosphere)
	assert.InDelta(t, 0.2282, g.Oxygen/Litre, 0.00005)
	assert.InDelta(t, 0.685, g.Total()/Litre, 0.0005)
	assert.InDelta(t, 0.2091, Evolved(AmpHour, Kelvin(0), Atmosphere).Oxygen/Litre, 0.00005)
	assert.InEpsilon(t, 0.42, Evolved(AmpHour, Kelvin(0), Atmosphere).Hydrogen/Litre, 0.005)
}

// 10 A: 0.50 m³/h by the battery-room form, 0.456 by the 1 % criterion at 25 degC, 14 cm²
// of vent each way, 0.62 m for sparks before the least of 1 m.
func TestAirForTenAmps(t *testing.T) {
	a := AirFor(10, Kelvin(25))
	assert.InDelta(t, 0.50, a.Battery*3600, 1e-12)
	assert.InDelta(t, 0.456, a.Percent*3600, 0.0005)
	assert.Equal(t, a.Battery, a.Least())
	assert.InDelta(t, 14e-4, VentArea(a.Least()), 1e-12)
	assert.InDelta(t, 1.25, RoomVolume(a.Least()), 1e-12)
	assert.InDelta(t, 0.62, batteryDistance(10), 0.005)
	assert.Equal(t, LeastDistance, SparkDistance(10))
	assert.Greater(t, SparkDistance(100), 1.3)
	hot := AirFor(10, Kelvin(60))
	assert.Equal(t, hot.Percent, hot.Least(), "warm hydrogen takes more room than the form counts with")
}

// A litre of 2 H2 : O2 at 25 degC is 2/3 of 1/24.465 mol of hydrogen: times 241.8 and
// 285.8 kJ/mol, 6.59 and 7.79 kJ.
func TestEnergyOfALitre(t *testing.T) {
	e := Energy(Litre, Kelvin(25))
	assert.InDelta(t, 6.59e3, e.Low, 5)
	assert.InDelta(t, 7.79e3, e.High, 5)
	assert.InDelta(t, Energy(MostInPocket, Kelvin(25)).High, e.High/20, 1e-9)
}

// 1 A of wall and 1 A of rod into a 50 mL pocket at 25 degC: 0.6846 L/h fill it in 263 s.
func TestPocketFills(t *testing.T) {
	p := Pocket{Volume: MostInPocket, Hydrogen: 1, Oxygen: 1}
	full := p.FullAfter(Kelvin(25))
	assert.InDelta(t, 3600*0.05/0.6846, full, 0.1)
	assert.InDelta(t, MostInPocket/2, p.Held(full/2, Kelvin(25)), 1e-12)
	assert.Equal(t, MostInPocket, p.Held(10*full, Kelvin(25)))
	assert.True(t, math.IsInf(Pocket{Volume: 1}.FullAfter(Kelvin(25)), 1))
}

func TestGasIsTwoToOneAndAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.Float64Range(1, 1e7).Draw(t, "charge")
		k := Kelvin(rapid.Float64Range(0, 60).Draw(t, "celsius"))
		g := Evolved(q, k, Atmosphere)
		assert.InEpsilon(t, 2*g.Oxygen, g.Hydrogen, 1e-12)
		assert.InEpsilon(t, g.Total()*3, Evolved(q, k, Atmosphere/3).Total(), 1e-12)
		assert.InEpsilon(t, g.Scale(2).Total(), Evolved(2*q, k, Atmosphere).Total(), 1e-12)
	})
}
