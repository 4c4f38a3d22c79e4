package bath

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func kappa(t require.TestingT, salt Salt, percent, celsius float64) float64 {
	r, err := Conductivity(salt, percent/100, Kelvin(celsius))
	require.NoError(t, err)
	return r.Mid
}

// CRC Handbook, "Electrical Conductivity of Aqueous Solutions", 20 degC, mS/cm. At the
// table's own points the curve is the table.
func TestConductivityAtTheTablePoints(t *testing.T) {
	for salt, row := range map[Salt]map[float64]float64{
		Carbonate:   {0.5: 7.0, 1: 13.1, 2: 23.3, 5: 47.0, 10: 74.4, 15: 88.6},
		Hydroxide:   {0.5: 24.8, 1: 48.6, 2: 93.1, 5: 206},
		Bicarbonate: {0.5: 4.2, 1: 8.2, 2: 15.0, 5: 31.4},  // from memory
		Phosphate:   {0.5: 7.3, 1: 14.1, 2: 22.7, 5: 43.5}, // from memory
	} {
		for percent, want := range row {
			assert.InEpsilon(t, want/10, kappa(t, salt, percent, 20), 1e-12, "%s %g %%", salt.Formula(), percent)
		}
	}
}

// Between them: values worked out from the same table, in mS/cm, to the digits given.
func TestConductivityBetweenThePoints(t *testing.T) {
	for percent, want := range map[float64]float64{
		0.1: 1.63, 0.2: 3.06, 0.3: 4.41, 0.4: 5.72, 0.75: 10.1, 1.5: 18.4, 3: 31.8, 4: 39.6,
	} {
		assert.InEpsilon(t, want/10, kappa(t, Carbonate, percent, 20), 0.004, "%g %%", percent)
	}
}

// Kohlrausch and Holborn at 18 degC, mS/cm (from memory), within the 8 % of the rule.
func TestConductivityAgainstKohlrausch(t *testing.T) {
	for percent, want := range map[float64]float64{5: 45.1, 10: 70.5, 15: 83.6} {
		assert.InEpsilon(t, want/10, kappa(t, Carbonate, percent, 18), 0.08)
	}
}

// fit is the second route: McCleskey (2011), κ in mS/cm from molality and degC, with a
// multiplier of 1. It is for dilute liquid.
type fit struct{ c1, c2, c3, d1, d2, d3, b float64 }

func (f fit) kappa(molality, celsius float64) float64 {
	root := math.Sqrt(molality)
	at := func(a, b, c float64) float64 { return (a*celsius+b)*celsius + c }
	return molality * (at(f.c1, f.c2, f.c3) - at(f.d1, f.d2, f.d3)*root/(1+f.b*root))
}

func carbonateFit() fit { return fit{0.02296, 5.211, 147, 0.05707, 22.22, 455.8, 4.8} }

func molality(percent, molar float64) float64 { return percent / (100 - percent) * 1000 / molar }

// The fit runs 6, 7 and 10 % above the CRC table at 1, 2 and 0.5 %; for lye it is within 3 %.
func TestConductivityAgainstTheFit(t *testing.T) {
	for percent, above := range map[float64]float64{0.5: 0.10, 1: 0.06, 2: 0.07} {
		f := carbonateFit().kappa(molality(percent, 105.99), 20) / 10
		assert.InDelta(t, above, f/kappa(t, Carbonate, percent, 20)-1, 0.01, "%g %%", percent)
	}
	lye := fit{0.006936, 3.872, 148.3, 0.01018, 0.67421, 56.76, 0.2}
	for _, percent := range []float64{0.5, 1, 2} {
		assert.InEpsilon(t, kappa(t, Hydroxide, percent, 20), lye.kappa(molality(percent, 40), 20)/10, 0.035)
	}
}

// The straight line for temperature against the ratio of the fit, 1 % soda: within 5 %
// from 10 to 60 degC.
func TestTemperatureFactorAgainstTheFit(t *testing.T) {
	m := molality(1, 105.99)
	for _, celsius := range []float64{10, 15, 25, 30, 40, 50, 60} {
		ratio := carbonateFit().kappa(m, celsius) / carbonateFit().kappa(m, 20)
		assert.InEpsilon(t, ratio, TemperatureFactor(Kelvin(celsius)), 0.05, "%g degC", celsius)
	}
	assert.InDelta(t, 0.80, carbonateFit().kappa(m, 10)/carbonateFit().kappa(m, 20), 0.005, "the fit itself")
}

func TestConductivityOutsideTheTable(t *testing.T) {
	var fault *LimitError
	_, err := Conductivity(Carbonate, 0.16, Kelvin(20))
	require.True(t, errors.As(err, &fault))
	assert.Equal(t, 16.0, fault.Value)
	_, err = Conductivity(Carbonate, math.NaN(), Kelvin(20))
	assert.Error(t, err)
	_, err = Conductivity(Carbonate, 0.01, 20)
	assert.ErrorContains(t, err, "-253.1 degC", "20 K is no bath")
	_, err = DoseFor(Anhydrous, 50, Kelvin(20))
	assert.ErrorContains(t, err, "50 S/m")
	_, err = DoseFor(Anhydrous, -1, Kelvin(20))
	assert.Error(t, err)
}

func TestDoseForUndoesConductivity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Recipe{
			Product:     rapid.SampledFrom(Products()).Draw(t, "product"),
			Temperature: Kelvin(rapid.Float64Range(1, 60).Draw(t, "celsius")),
		}
		r.Dose = rapid.Float64Range(0.1, 45).Draw(t, "dry") / r.Product.Share()
		k, err := r.Conductivity()
		require.NoError(t, err)
		dose, err := DoseFor(r.Product, k.Mid, r.Temperature)
		require.NoError(t, err)
		assert.InEpsilon(t, r.Dose, dose.Mid, 1e-9)
		assert.Less(t, dose.Low, dose.Mid)
		assert.Less(t, dose.Mid, dose.High)
	})
}

func TestMoreSodaAndMoreWarmthConductBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		salt := Salt(rapid.IntRange(0, 3).Draw(t, "salt"))
		percent := rapid.Float64Range(0.001, 4.9).Draw(t, "percent")
		celsius := rapid.Float64Range(0, 79).Draw(t, "celsius")
		base := kappa(t, salt, percent, celsius)
		assert.Greater(t, kappa(t, salt, percent*1.01, celsius), base)
		assert.Greater(t, kappa(t, salt, percent, celsius+1), base)
	})
}
