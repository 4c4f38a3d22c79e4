package bath

import "math"

// Thermoneutral is the voltage at which splitting water neither warms nor cools it, V,
// at 25 degC: 1.481, as a heat balance uses it.
const Thermoneutral = 1.48

// Temperatures of the tank for its paint, K: 50 and 60 degC. Fittings of fuel tanks are made for up to
// 60 degC (SAE J1241, as summarised).
const (
	PaintCaution = zeroCelsius + 50
	PaintStop    = zeroCelsius + 60
)

// Heat returns what warms the bath, W: power, W, is the mean of volts times amps across
// it, amps the mean current, all of whose gas escapes.
func Heat(power, amps float64) float64 { return power - Thermoneutral*amps }

// SpecificHeat returns that of a washing-soda bath, J/(kg K), at a share of dry salt by
// mass up to 5 %: Laliberté (2009), at 25 degC; 4180 for water.
func SpecificHeat(share float64) float64 {
	return along([]curvePoint{{0, 4180}, {0.005, 4150}, {0.01, 4130}, {0.02, 4080}, {0.05, 3950}}, share)
}

// WallLoss returns the heat that a bare steel wall in still air loses, W/(m² K), with
// liquid inside at a temperature, K: an engineering table for 32 to 66 degC inside and
// 16 degC outside, ± 20 %.
func WallLoss(temperature float64) Range {
	t := math.Min(math.Max(Celsius(temperature), 32.2), 65.6)
	return Around(along([]curvePoint{{32.2, 9.5}, {37.8, 9.9}, {48.9, 10.4}, {54.4, 11.0}, {65.6, 11.4}}, t), 0.20)
}

// Warming is a well-stirred bath that a constant heat warms against the air.
type Warming struct {
	Heat     float64 // W
	Capacity float64 // J/K, of the liquid (and the steel, if it counts)
	Area     float64 // m², of wall in contact with liquid and air
	Loss     float64 // W/(m² K), as WallLoss gives
	Start    float64 // K
	Air      float64 // K
}

// Steady returns the temperature that the bath tends to, K; +Inf if nothing is lost.
func (w Warming) Steady() float64 { return w.Air + w.Heat/(w.Area*w.Loss) }

// TimeConstant returns the time in which 63 % of the way to Steady is made, s.
func (w Warming) TimeConstant() float64 { return w.Capacity / (w.Area * w.Loss) }

// At returns the temperature after a time, s, K.
func (w Warming) At(seconds float64) float64 {
	conductance := w.Area * w.Loss
	if conductance == 0 {
		return w.Start + w.Heat*seconds/w.Capacity
	}
	return w.Steady() + (w.Start-w.Steady())*math.Exp(-seconds/w.TimeConstant())
}

// TimeTo returns the time until the bath has warmed to a temperature, K, in s: 0 when it
// starts there or above, +Inf when it never gets there.
func (w Warming) TimeTo(temperature float64) float64 {
	switch {
	case w.Start >= temperature:
		return 0
	case w.Area*w.Loss == 0 && w.Heat > 0:
		return (temperature - w.Start) * w.Capacity / w.Heat
	case !(w.Steady() > temperature):
		return math.Inf(1)
	}
	return w.TimeConstant() * math.Log((w.Steady()-w.Start)/(w.Steady()-temperature))
}
