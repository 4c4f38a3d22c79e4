package electrode

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func everyLaw() []Law {
	return []Law{
		Film{Resistance: 0.02},
		DefaultWall(),
		Steel(),
		Graphite(),
		Tafel{Exchange: 0.1, Slope: 0.1},
		Series{Film{Resistance: 0.002}, DefaultWall()},
		Series{Film{Resistance: 0.002}, Steel(), Primary{}},
	}
}

// The law is stated as j = 2·j0·sinh(ln(10)·eta/slope); Drop is that turned round.
func TestSinhIsTheInverseOfItsFormula(t *testing.T) {
	law := Sinh{Exchange: 0.03, Slope: 0.12}
	for _, eta := range []float64{0.001, 0.05, 0.3, 0.7} {
		j := 2 * law.Exchange * math.Sinh(math.Ln10*eta/law.Slope)
		volts, _ := law.Drop(j)
		assert.InDelta(t, eta, volts, 1e-14)
	}
}

// The figures that go with the default wall: 0.24, 0.30, 0.36, 0.42 V at 0.3, 1, 3 and
// 10 mA/cm², to the two places they are given in.
func TestDefaultWallOverpotentials(t *testing.T) {
	for j, eta := range map[float64]float64{3: 0.24, 10: 0.30, 30: 0.36, 100: 0.42} {
		volts, _ := DefaultWall().Drop(j)
		assert.InDelta(t, eta, volts, 0.005, "%g A/m²", j)
	}
}

// 0.45 V at 10 mA/cm², 0.49 V at 20 mA/cm² for steel; 0.65 V for graphite; the slopes
// are the quoted decades.
func TestOxygenLawsPassThroughTheirQuotedPoints(t *testing.T) {
	drop := func(law Law, j float64) float64 { v, _ := law.Drop(j); return v }
	assert.InDelta(t, 0.45, drop(Steel(), 100), 1e-12)
	assert.InDelta(t, 0.49, drop(Steel(), 200), 0.005)
	assert.InDelta(t, 0.45-0.06, drop(Steel(), 10), 1e-12)
	assert.InDelta(t, 0.45+0.12, drop(Steel(), 1000), 1e-12)
	assert.InDelta(t, 0.65, drop(Graphite(), 100), 1e-12)
	assert.InDelta(t, 0.65+0.14, drop(Graphite(), 1000), 1e-12)
}

// Tafel's line is b·log10(j/j0) from e·j0 up, and meets rest without a jump or a corner.
func TestTafelIsExactAboveAndTangentBelow(t *testing.T) {
	law := Tafel{Exchange: 0.1, Slope: 0.12}
	for _, j := range []float64{math.E * 0.1, 1, 1e6} {
		volts, _ := law.Drop(j)
		assert.InDelta(t, 0.12*math.Log10(j/0.1), volts, 1e-14)
	}
	_, below := law.Drop(math.E * 0.1 * (1 - 1e-9))
	_, above := law.Drop(math.E * 0.1 * (1 + 1e-9))
	assert.InEpsilon(t, below, above, 1e-8)
}

func TestSeriesAddsItsParts(t *testing.T) {
	wall, film := DefaultWall(), Film{Resistance: 0.02}
	v1, s1 := wall.Drop(7)
	v, s := Series{wall, film, Primary{}}.Drop(7)
	assert.InDelta(t, v1+0.14, v, 1e-15)
	assert.InDelta(t, s1+0.02, s, 1e-15)
	v, s = Series{}.Drop(7)
	assert.Zero(t, v)
	assert.Zero(t, s)
}

// Odd, rising, finite, and the slope is the derivative: for every law over 24 decades.
func TestLawsKeepTheirPromises(t *testing.T) {
	for _, law := range everyLaw() {
		t.Run(fmt.Sprintf("%T", law), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				j := math.Pow(10, rapid.Float64Range(-12, 12).Draw(t, "decade"))
				v, slope := law.Drop(j)
				minus, _ := law.Drop(-j)
				assert.Equal(t, v, -minus)
				assert.Greater(t, slope, 0.0)
				step := 1e-5 * j
				up, _ := law.Drop(j + step)
				down, _ := law.Drop(j - step)
				assert.Greater(t, up, down)
				if math.Abs(j-Steel().Knee) < 2*step {
					return // the corner of the oxygen law has two slopes
				}
				assert.InEpsilon(t, slope, (up-down)/(2*step), 1e-4)
			})
			for _, j := range []float64{0, math.MaxFloat64, math.SmallestNonzeroFloat64} {
				v, slope := law.Drop(j)
				assert.False(t, math.IsNaN(v) || math.IsNaN(slope), "at %g", j)
			}
		})
	}
}

func TestCurrentUndoesDrop(t *testing.T) {
	for _, law := range everyLaw() {
		t.Run(fmt.Sprintf("%T", law), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				want := math.Pow(10, rapid.Float64Range(-6, 6).Draw(t, "decade"))
				v, slope := law.Drop(want)
				j, conductance := Current(law, v)
				// volts carry 1e-16 of themselves; the law's own steepness turns that into current
				assert.InEpsilon(t, want, j, 1e-14+4e-16*v/(slope*want)*4)
				if math.Abs(want-Steel().Knee) > 1e-6*want { // the corner has two slopes
					assert.InEpsilon(t, 1/slope, conductance, 1e-9)
				}
				back, _ := Current(law, -v)
				assert.Equal(t, -j, back)
			})
		})
	}
}

func TestThroughIsCurrentOfTheSeries(t *testing.T) {
	for _, v := range []float64{-3, 1e-9, 0.2, 1, 12, 300} {
		j, g := Through(DefaultWall(), 0.05, v)
		want, wantG := Current(Series{Film{Resistance: 0.05}, DefaultWall()}, v)
		assert.InEpsilon(t, want, j, 1e-12)
		assert.InEpsilon(t, wantG, g, 1e-12)
	}
}

func TestNothingLimitsAPrimaryWall(t *testing.T) {
	j, _ := Current(Primary{}, 0.1)
	assert.True(t, math.IsInf(j, 1))
	j, _ = Through(Primary{}, 0.5, 2)
	assert.InDelta(t, 4, j, 1e-15)
	j, _ = Current(Steel(), 0)
	assert.Zero(t, j)
	j, _ = Current(Steel(), 1e6)
	assert.True(t, math.IsInf(j, 1), "a million volts need more than any float64 holds")
}

func BenchmarkThrough(b *testing.B) {
	law := DefaultWall()
	for b.Loop() {
		Through(law, 0.01, 3)
	}
}
