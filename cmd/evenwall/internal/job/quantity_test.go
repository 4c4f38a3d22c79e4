package job

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Expected values are the definitions of the units: inch 25.4 mm, US gallon 231 cubic
// inches, imperial gallon 4.54609 L, foot 0.3048 m, 0 degC = 273.15 K, hour 3600 s.
func TestQuantitiesReadInEveryUnit(t *testing.T) {
	for _, c := range []struct {
		kind kind
		text string
		want float64 // SI
	}{
		{length, "40", 0.040},
		{length, "40.3", 0.0403},
		{length, "-12.5 mm", -0.0125},
		{length, "12 cm", 0.12},
		{length, "0.2m", 0.2},
		{length, "1.5 in", 0.0381},
		{length, "3/8 in", 0.009525},
		{length, "1 3/8 in", 0.034925},
		{length, "-3/8 in", -0.009525},
		{length, "1 ft", 0.3048},
		{length, "1e2", 0.1},
		{angle, "180", math.Pi},
		{angle, "90 deg", math.Pi / 2},
		{angle, "90°", math.Pi / 2},
		{angle, "0.5 rad", 0.5},
		{volume, "12 L", 0.012},
		{volume, "1 gal(US)", 231 * 0.0254 * 0.0254 * 0.0254},
		{volume, "3 gal(imp)", 3 * 4.54609e-3},
		{volume, "250 ml", 250e-6},
		{conductivity, "0.6 S/m", 0.6},
		{conductivity, "6 mS/cm", 0.6},
		{conductivity, "6000 uS/cm", 0.6},
		{conductivity, "6000 µS/cm", 0.6},
		{conductivity, "6000 \u03bcS/cm", 0.6},
		{film, "0.02 ohm m2", 0.02},
		{film, "200 ohm cm2", 0.02},
		{film, "0.02 Ω·m²", 0.02},
		{film, "0 ohm m2", 0},
		{density, "1 A/m2", 1},
		{density, "1 A/dm2", 100},
		{density, "1 mA/cm2", 10},
		{density, "1 A/ft2", 10.763910416709722},
		{charge, "150 A h/m2", 540000},
		{charge, "150 Ah/m²", 540000},
		{voltage, "120 mV", 0.12},
		{resistance, "300 mohm", 0.3},
		{current, "600 mA", 0.6},
		{share, "95 %", 0.95},
		{dose, "4 g/L", 4},
		{duration, "6", 21600},
		{duration, "2 days", 172800},
		{duration, "30 min", 1800},
		{temperature, "20 degC", 293.15},
		{temperature, "20 °C", 293.15},
		{temperature, "68 degF", 293.15},
		{temperature, "300 K", 300},
	} {
		got, err := c.kind.parse(c.text)
		require.NoError(t, err, c.text)
		assert.InEpsilon(t, c.want+1, got+1, 1e-15, c.text)
	}
}

func TestQuantitiesThatCannotBeMeant(t *testing.T) {
	for _, c := range []struct {
		kind kind
		text string
		says string // part of the message
	}{
		{conductivity, "0.6", "has no unit"},
		{conductivity, "0.6 S", "S/m, mS/cm, uS/cm"},
		{volume, "3 gal", "gal(US), gal(imp)"},
		{share, "0.95", "95 %"},
		{length, "1,5 in", "decimal point"},
		{length, "nan", "not a finite"},
		{length, "NaN mm", "not a finite"},
		{length, ".inf", "not a finite"},
		{length, "1e999", "not a finite"},
		{length, "1/0 in", "not a finite"},
		{length, "2 km", "is no unit"},
		{length, "2000 m", "beyond any length"},
		{length, "", "not a finite"},
		{length, "0x10", "is no unit"},
		{voltage, "12 v", "V, mV"},
	} {
		_, err := c.kind.parse(c.text)
		if assert.Error(t, err, c.text) {
			assert.Contains(t, err.Error(), c.says)
		}
	}
}

// Whatever the number, it is read back to the last bit from the text that is written.
func TestFormatReadsBackExactly(t *testing.T) {
	kinds := []kind{length, angle, volume, conductivity, film, density, charge, voltage, resistance, current, share, duration}
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(kinds).Draw(t, "kind")
		si := rapid.Float64Range(-900, 900).Draw(t, "si")
		text := k.format(si)
		back, err := k.parse(text)
		if err != nil || back != si {
			t.Fatalf("%v was written as %q and read back as %v, %v", si, text, back, err)
		}
	})
}

func TestFormatIsShort(t *testing.T) {
	assert.Equal(t, "25", length.format(0.025))
	assert.Equal(t, "40.3", length.format(0.0403))
	assert.Equal(t, "0", length.format(0))
	assert.Equal(t, "-1500", length.format(-1.5))
	assert.Equal(t, "8", angle.format(8*degree))
	assert.Equal(t, "12 L", volume.format(0.012))
	assert.Equal(t, "95 %", share.format(0.95))
	assert.Equal(t, "150 A h/m2", charge.format(150*hour))
	assert.Equal(t, "0.1 ohm m2", film.format(0.1))
}
