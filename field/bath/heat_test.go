package bath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// 12 V, 10 A, 15 L, 0.40 m², 9.5 W/(m² K): 105 W, 6 K/h at first, time constant 4.6 h,
// steady rise 28 K, to the digits given.
func TestWarmingExample(t *testing.T) {
	heat := Heat(12*10, 10)
	assert.InDelta(t, 105, heat, 0.5)
	mass := 15 * Litre * Density(Carbonate, 0.005, Kelvin(20))
	w := Warming{Heat: heat, Capacity: mass * SpecificHeat(0.005), Area: 0.40, Loss: 9.5, Start: Kelvin(20), Air: Kelvin(20)}
	assert.InDelta(t, 6, (w.At(60)-w.Start)*60, 0.1)
	assert.InDelta(t, 4.6, w.TimeConstant()/3600, 0.05)
	assert.InDelta(t, 28, w.Steady()-w.Air, 0.5)
	assert.True(t, math.IsInf(w.TimeTo(PaintCaution), 1), "48 degC is the end of it")
	assert.Zero(t, w.TimeTo(Kelvin(10)))
}

// The curve against its own differential equation, stepped by the midpoint rule, and
// TimeTo against At.
func TestWarmingObeysItsBalance(t *testing.T) {
	w := Warming{Heat: 300, Capacity: 60e3, Area: 0.4, Loss: 9.5, Start: Kelvin(12), Air: Kelvin(18)}
	rate := func(k float64) float64 { return (w.Heat - w.Area*w.Loss*(k-w.Air)) / w.Capacity }
	k := w.Start
	const step = 10.0
	for range 1080 {
		k += step * rate(k+step/2*rate(k))
	}
	assert.InDelta(t, k, w.At(10800), 1e-4)
	assert.InDelta(t, PaintStop, w.At(w.TimeTo(PaintStop)), 1e-9)
}

func TestWarmingWithoutLossIsStraight(t *testing.T) {
	w := Warming{Heat: 100, Capacity: 50e3, Start: Kelvin(20), Air: Kelvin(20)}
	assert.InDelta(t, 22, Celsius(w.At(1000)), 1e-9)
	assert.InDelta(t, 15000, w.TimeTo(PaintCaution), 1e-6)
}

// Heat lost by bare tanks in still air at 60 degF: 50, 70, 110, 135 and 180 Btu/(h ft²) at
// 90, 100, 120, 130 and 150 degF, in W/(m² K) 9.5 to 11.4.
func TestWallLossTable(t *testing.T) {
	assert.InDelta(t, 9.5, WallLoss(Kelvin(20)).Mid, 1e-12, "below the table its first value")
	assert.InDelta(t, 11.4, WallLoss(Kelvin(70)).Mid, 1e-12)
	const btuPerHourSquareFoot = 3.15459 // W/m²
	for _, row := range []struct{ fahrenheit, btu float64 }{{90, 50}, {100, 70}, {120, 110}, {130, 135}, {150, 180}} {
		want := row.btu * btuPerHourSquareFoot / ((row.fahrenheit - 60) / 1.8)
		assert.InEpsilon(t, want, WallLoss(Kelvin((row.fahrenheit-32)/1.8)).Mid, 0.01, "%+v", row)
	}
}

// Specific heats by Laliberté (2009) at 25 degC, kJ/(kg K).
func TestSpecificHeats(t *testing.T) {
	for percent, want := range map[float64]float64{0.5: 4.15, 1: 4.13, 2: 4.08, 5: 3.95} {
		assert.InDelta(t, want*1000, SpecificHeat(percent/100), 1e-9)
	}
}

// Water split 0.336 g, iron 1.0418 g as Fe²⁺, carbon 0.112 g to CO2 for an ampere hour; 9.13 kg
// of iron for an ampere year: worked out from Faraday's law to the digits given.
func TestWearPerAmpHour(t *testing.T) {
	assert.InDelta(t, 0.336e-3, WaterLost(AmpHour, Kelvin(20)).Low, 0.0005e-3)
	assert.InDelta(t, 1.0418e-3, RodLost(SteelRod, AmpHour), 0.00005e-3)
	assert.InDelta(t, 0.112e-3, RodLost(GraphiteRod, AmpHour), 0.0005e-3)
	assert.InDelta(t, 9.13, RodLost(SteelRod, AmpHour*8760), 0.005)
	assert.InDelta(t, 88.85/55.845, Sludge(1), 1e-9)
}

// Saturated steam tables: 2.339 kPa at 20 degC, 12.35 kPa at 50 degC (from memory).
func TestVapourPressure(t *testing.T) {
	assert.InEpsilon(t, 2339, saturation(20), 0.003)
	assert.InEpsilon(t, 12350, saturation(50), 0.005)
	warm, cold := WaterLost(AmpHour, Kelvin(50)), WaterLost(AmpHour, Kelvin(10))
	assert.Greater(t, warm.Mid, cold.Mid)
	assert.Equal(t, warm.Low, cold.Low)
}

// 100 A h take 104 g of a steel rod at most; a bare 6 mm rod 200 mm long weighs 44 g, a
// 12 mm one 178 g.
func TestRodLeft(t *testing.T) {
	lost := RodLost(SteelRod, 100*AmpHour)
	assert.Zero(t, RodLeft(SteelRod, 0.006, 0.2, lost))
	assert.InDelta(t, 1-104.2/177.6, RodLeft(SteelRod, 0.012, 0.2, lost), 0.001)
	assert.Equal(t, 1.0, RodLeft(SteelRod, 0.012, 0.2, 0))
}

func TestWarmingRisesTowardsSteady(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Warming{
			Heat: rapid.Float64Range(1, 500).Draw(t, "heat"), Capacity: rapid.Float64Range(1e4, 1e6).Draw(t, "capacity"),
			Area: rapid.Float64Range(0.1, 3).Draw(t, "area"), Loss: rapid.Float64Range(7, 12).Draw(t, "loss"),
			Start: Kelvin(15), Air: Kelvin(15),
		}
		early, late := w.At(1000), w.At(5000)
		assert.Less(t, w.Start, early)
		assert.Less(t, early, late)
		assert.LessOrEqual(t, late, w.Steady())
	})
}
