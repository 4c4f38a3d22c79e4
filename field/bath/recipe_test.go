package bath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Mass fractions of the dry salt from the molar masses; the decahydrate's 37 % is quoted.
func TestShares(t *testing.T) {
	for product, want := range map[Product]float64{Anhydrous: 1, Monohydrate: 0.855, Heptahydrate: 0.457, Decahydrate: 0.370} {
		assert.InDelta(t, want, product.Share(), 0.0005, product.String())
	}
	assert.InDelta(t, 2.70, Anhydrous.Share()/Decahydrate.Share(), 0.005, "mass for the same carbonate")
	assert.InDelta(t, 163.94/380.12, TrisodiumPhosphateCrystals.Share(), 1e-12)
}

func TestProductsByName(t *testing.T) {
	for _, p := range Products() {
		back, err := ParseProduct(p.String())
		require.NoError(t, err)
		assert.Equal(t, p, back)
	}
	_, err := ParseProduct("table salt")
	assert.ErrorContains(t, err, `"table salt"`)
	assert.ErrorContains(t, err, "decahydrate")
}

// Densities by Laliberté (2009), kg/m³ at 20 degC. Carbonate is computed, ± 0.3 % asked
// and met to the digits given; the others are the same source's values.
func TestDensities(t *testing.T) {
	for percent, want := range map[float64]float64{0: 998.2, 0.5: 1003.5, 1: 1008.7, 2: 1019.2, 5: 1050.7, 10: 1103.6} {
		assert.InDelta(t, want, Density(Carbonate, percent/100, Kelvin(20)), 0.1, "%g %%", percent)
	}
	assert.InDelta(t, 1005.5, Density(Bicarbonate, 0.01, Kelvin(20)), 0.1)
	assert.InDelta(t, 1020.2, Density(Hydroxide, 0.02, Kelvin(20)), 0.1)
	assert.InDelta(t, 1020.5, Density(Phosphate, 0.02, Kelvin(20)), 0.1)
	assert.InDelta(t, 999.97, WaterDensity(Kelvin(4)), 0.01, "water is densest, 999.97 kg/m³, at 4 degC")
}

// Solubility table, g per 100 g of water.
func TestSolubility(t *testing.T) {
	for celsius, want := range map[float64]float64{0: 7.0, 10: 12.2, 20: 21.8, 25: 29.4, 40: 48.8} {
		share := Solubility(Kelvin(celsius))
		assert.InDelta(t, want, 100*share/(1-share), 1e-9)
	}
}

// 10 g/L is the recipe of a 1 % bath (1.34 oz to a US gallon), and 13.1 mS/cm at 20 degC.
func TestOnePercentByRecipe(t *testing.T) {
	r := Recipe{Product: Anhydrous, Dose: 10, Temperature: Kelvin(20)}
	assert.InDelta(t, 0.01, r.MassShare(), 0.0001)
	k, err := r.Conductivity()
	require.NoError(t, err)
	assert.InEpsilon(t, 1.31, k.Mid, 0.01)
	assert.InDelta(t, 1.34*0.0283495, r.Mass(GallonUS), 0.0002, "kg per US gallon")
	assert.InDelta(t, 0.15, r.Mass(15*Litre), 1e-12)
}

// One level tablespoon to a US gallon: grams, anhydrous g/L, % and mS/cm at 20 degC by
// form and bulk density, as worked out from the same tables to the digits given.
func TestOneTablespoonPerGallon(t *testing.T) {
	for _, c := range []struct {
		product                      Product
		bulk                         float64 // kg/m³
		grams, dry, percent, mSPerCM float64
	}{
		{Anhydrous, 570, 8.4, 2.2, 0.22, 3.4},
		{Anhydrous, 770, 11.4, 3.0, 0.30, 4.4},
		{Anhydrous, 1060, 15.7, 4.1, 0.41, 5.9},
		{Monohydrate, 1000, 14.8, 3.3, 0.33, 4.9},
		{Decahydrate, 650, 9.6, 0.9, 0.09, 1.6},
		{Decahydrate, 900, 13.3, 1.3, 0.13, 2.1},
	} {
		mass := c.bulk * TablespoonUS
		r := Recipe{Product: c.product, Dose: mass / GallonUS, Temperature: Kelvin(20)}
		k, err := r.Conductivity()
		require.NoError(t, err)
		assert.InDelta(t, c.grams, mass*1000, 0.051, "%+v", c)
		assert.InDelta(t, c.dry, r.Dry(), 0.051, "%+v", c)
		assert.InDelta(t, c.percent, r.MassShare()*100, 0.0051, "%+v", c)
		assert.InDelta(t, c.mSPerCM, k.Mid*10, 0.06, "%+v", c)
	}
}

// The same spoon through the program's own spread of bulk densities: 1.6 to 5.9 mS/cm by
// form, a factor of about four.
func TestASpoonHidesAFactorOfFour(t *testing.T) {
	at := func(p Product, mass float64) float64 {
		k, err := Recipe{Product: p, Dose: mass / GallonUS, Temperature: Kelvin(20)}.Conductivity()
		require.NoError(t, err)
		return k.Mid * 10
	}
	weak, err := SpoonMass(Decahydrate, TablespoonUS)
	require.NoError(t, err)
	strong, err := SpoonMass(Anhydrous, TablespoonUS)
	require.NoError(t, err)
	assert.InDelta(t, 1.6, at(Decahydrate, weak.Low), 0.06)
	assert.InDelta(t, 5.9, at(Anhydrous, strong.High), 0.06)
}

func TestSpoons(t *testing.T) {
	n, err := Spoons(Anhydrous, 0.060, TablespoonUS)
	require.NoError(t, err)
	// 60 g at 15.7, 11.4 and 8.4 g a spoon
	assert.InDelta(t, 60/15.7, n.Low, 0.02)
	assert.InDelta(t, 60/11.4, n.Mid, 0.02)
	assert.InDelta(t, 60/8.4, n.High, 0.05)
	_, err = Spoons(Lye, 0.05, TablespoonUS)
	assert.ErrorContains(t, err, "weigh it")
	assert.InDelta(t, 14.787e-6, TablespoonUS, 1e-9)
	assert.InDelta(t, 17.758e-6, TablespoonImperial, 1e-9)
	assert.InDelta(t, 3.906e-3, TablespoonUS/GallonUS, 1e-6, "mL per mL, the same in both systems")
	assert.InDelta(t, TablespoonUS/GallonUS, TablespoonImperial/GallonImperial, 1e-15)
}

// 4 g/L of dry soda: 4.68 g/L of monohydrate and 10.8 of decahydrate (2.70 by mass).
func TestUnsaidForm(t *testing.T) {
	r := UnsaidForm(4)
	assert.InDelta(t, 4, r.Low, 1e-12)
	assert.InDelta(t, 4.68, r.Mid, 0.005)
	assert.InDelta(t, 4*2.70, r.High, 0.005)
	for _, p := range WashingSodas() {
		assert.True(t, r.Contains(4/p.Share()), p.String())
	}
}
