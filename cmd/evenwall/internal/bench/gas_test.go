package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/bath"
	"evenwall/geometry"
)

func spanTo(length float64) geometry.Span { return geometry.Span{From: 0, To: length} }

// tenAmps is a tank of 15 L and 0.40 m² at exactly 12 V and 10 A from a smooth supply, for the worked
// examples.
func tenAmps(t *testing.T) Station {
	s := fifteen(0.6)
	s.Amps, s.RodAmps = 10, []float64{10}
	s.Liquid, s.Across = (12-2.2)/10, 12-2.2
	return s
}

const smooth = "supply: {voltage: 12 V, kind: bench, isolated: yes}"

// At 10 A: 4.488 L of hydrogen an hour at 20 degC by Faraday, half of that oxygen; air by the
// battery-room form 0.50 m³/h and by the 1 % form 0.449.
func TestGasOfTenAmps(t *testing.T) {
	s, j := tenAmps(t), parsed(t, "bath: {conductivity: 0.6 S/m}", smooth)
	g := s.Gas(j)
	assert.InDelta(t, 4.488, g.Hydrogen.Mid, 0.005)
	assert.InDelta(t, g.Hydrogen.Mid/2, g.Oxygen.Mid, 1e-9)
	scale := s.Settled(j).Amps.High / 10
	assert.InDelta(t, 0.50*scale, g.Air.Battery*3600, 1e-9, "for the most current")
	assert.InDelta(t, 0.449*scale, g.Air.Percent*3600, 0.001)
	assert.Equal(t, 1.0, g.Spark)
	assert.Empty(t, g.Held)
}

// 50 mL of two parts hydrogen to one of oxygen at 20 degC hold 1.386 mmol of hydrogen: 0.335 kJ
// to steam, 0.396 kJ to water.
func TestWhatAPocketHolds(t *testing.T) {
	s, j := tenAmps(t), parsed(t, "bath: {conductivity: 0.6 S/m}", smooth, "riser: {height: 100, bore: 50}")
	s.Pockets = []float64{50e-6}
	held := s.Gas(j).Held
	require.Len(t, held, 2)
	assert.InDelta(t, 335, held[0].Energy.Low, 1)
	assert.InDelta(t, 396, held[0].Energy.High, 1)
	assert.Equal(t, "riser, with its froth", held[1].Place)
	assert.InDelta(t, 0.196e-3, held[1].Volume, 1e-6, "by hand: pi/4 x 50² x 100 mm")
	assert.InDelta(t, 50e-6/(s.Settled(j).Amps.High*0.4488e-3*1.5/3600), held[0].Soonest, 0.05)
}

func TestLimitsOfGas(t *testing.T) {
	j := parsed(t, "bath: {conductivity: 0.6 S/m}")
	for _, c := range []struct {
		pockets   []float64 // mL
		headspace float64   // mL
		met       []bool
	}{
		{nil, 0, []bool{true, true, true}},
		{[]float64{50}, 50, []bool{true, true, true}},
		{[]float64{51}, 0, []bool{false, true, true}},
		{[]float64{50, 50, 50, 50, 50, 50}, 0, []bool{true, true, true}},
		{[]float64{50, 50, 50, 50, 50, 50, 1}, 0, []bool{true, false, true}},
		{nil, 51, []bool{true, true, false}},
	} {
		s := Station{Headspace: c.headspace * 1e-6}
		for _, p := range c.pockets {
			s.Pockets = append(s.Pockets, p*1e-6)
		}
		limits := s.Limits(j)
		require.Len(t, limits, 3)
		for i, want := range c.met {
			assert.Equal(t, want, limits[i].Met, "%+v: %s", c, limits[i].Name)
		}
	}
	j.Bath.Headspace = "stated"
	assert.Len(t, (&Station{Headspace: 1}).Limits(j), 2, "a stated reason is taken")
}

// The worked example of the heat balance: 12 V, 10 A, 15 L, 0.40 m²: 105 W, 6 K/h at first,
// time constant 4.6 h, steady rise 28 K, each ± 25 % but for the power's 5 %.
func TestHeatOfTenAmps(t *testing.T) {
	s, j := tenAmps(t), parsed(t, "bath: {conductivity: 0.6 S/m}", smooth)
	h := s.Heat(j)
	assert.InEpsilon(t, 105, h.Power.Mid, 0.05)
	assert.InEpsilon(t, 6, h.Rate.Mid*3600, 0.25)
	assert.InEpsilon(t, 4.6*3600, h.Constant, 0.25)
	assert.InEpsilon(t, 28, h.Steady.Mid-293.15, 0.25)
	assert.True(t, h.ToCaution.Low <= h.ToCaution.Mid && h.ToCaution.Mid <= h.ToCaution.High)
	assert.Greater(t, h.ToStop.Low, h.ToCaution.Low)
	// 0.336 g of water for each A h is split, and some goes as vapour.
	assert.InEpsilon(t, 3.36*s.Settled(j).Amps.Low/10, h.Water.Low*1000, 0.01)
	assert.Greater(t, h.Water.High, h.Water.Low)
}

// A rectified sine has its amps where it has its volts: more heat at the same means, up to
// a factor of pi²/8 without any dead voltage.
func TestARectifiedWaveHeatsMore(t *testing.T) {
	s := tenAmps(t)
	j := parsed(t, "bath: {conductivity: 0.6 S/m}", smooth)
	ripple := parsed(t, "bath: {conductivity: 0.6 S/m}", "supply: {voltage: 12 V, kind: plain, isolated: yes}")
	steady, pulsed := s.Heat(j).Power.Mid, s.Heat(ripple).Power.Mid
	assert.Greater(t, pulsed, 1.1*steady)
	assert.Less(t, pulsed, math.Pi*math.Pi/8*12*10)
}

// 10 A h dissolve 10.418 g of iron at most, which settle as 16.6 g of FeOOH; a bare
// stretch of 300 mm of 12 mm rod weighs 266 g.
func TestWhatTheRodLoses(t *testing.T) {
	s, j := fifteen(0.6), parsed(t, made(nil))
	s.RodAmps, s.Planned = []float64{10}, 3600
	w := s.Wear(j)
	require.Len(t, w, 1)
	assert.InDelta(t, 10.418e-3, w[0].Lost, 1e-5)
	assert.InDelta(t, 10.418e-3*88.85/55.845, w[0].Sludge, 1e-5)
	assert.InDelta(t, 1-10.418/266.3, w[0].Left, 1e-3)
	assert.Equal(t, 1, w[0].Rods)
	s.Planned = 20 * 3600 // 208 g: at 56 % of the section 117 g are gone
	assert.Equal(t, 2, s.Wear(j)[0].Rods)
	graphite := s.Wear(parsed(t, made(map[string]string{"rod": "graphite"})))
	assert.InDelta(t, 200*0.112e-3, graphite[0].Lost, 1e-4)
	assert.Zero(t, graphite[0].Sludge)
}

// 15 L of weak soda are 15 kg, and 0.4 m² of 1 mm sheet 3.1 kg.
func TestMass(t *testing.T) {
	s := fifteen(0.6)
	m := s.Mass(parsed(t, "bath: {conductivity: 0.6 S/m}"))
	assert.InDelta(t, 15*0.9982+0.4*7.85, m.Mid, 0.01)
	assert.InDelta(t, 0.4*0.5*7.85, m.High-m.Low, 1e-6, "0.7 to 1.2 mm")
	exact := s.Mass(parsed(t, "bath: {conductivity: 0.6 S/m}", "materials: {sheet: 2}"))
	assert.Equal(t, bath.Exactly(exact.Mid), exact)
}
