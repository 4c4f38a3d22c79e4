package colormap

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Ottosson (2020) scales the space so that D65 white, the white point of
// sRGB, has lightness 1 and no hue.
func TestWhiteIsLightnessOneWithoutHue(t *testing.T) {
	white := ToLab(color.RGBA{255, 255, 255, 255})
	assert.InDelta(t, 1, white.L, 1e-6)
	assert.InDelta(t, 0, white.A, 1e-6)
	assert.InDelta(t, 0, white.B, 1e-6)
	assert.InDelta(t, 0, ToLab(color.RGBA{0, 0, 0, 255}).L, 1e-9)
}

func TestEveryScreenColourSurvivesTheWayThroughLab(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := color.RGBA{rapid.Uint8().Draw(t, "r"), rapid.Uint8().Draw(t, "g"), rapid.Uint8().Draw(t, "b"), 255}
		assert.Equal(t, c, ToLab(c).toLinear().rgba())
	})
}

func TestSequenceStaysWithinTheScreensGamut(t *testing.T) {
	for i := range 257 {
		assert.True(t, at(float64(i)/256).toLinear().inGamut(), "step %d of 256", i)
	}
}

// The helix has the length sqrt((lightest - darkest)² + (radius·turn)²); n steps must
// each be that length's n-th part, but for rounding to 8 bits: half a step in each
// channel is below 0.004 in OKLab, two ends of a step make 0.008.
func TestStepsOfTheScreensColoursAreEven(t *testing.T) {
	const n = 16
	want := math.Hypot(lightest-darkest, radius*turn) / n
	for i := range n {
		a, b := ToLab(At(float64(i)/n)), ToLab(At(float64(i+1)/n))
		// A chord of the helix is shorter than its arc by under 0.2 % at this step.
		assert.InDelta(t, want, a.Distance(b), 0.008, "step %d", i)
	}
}

func TestLightnessRisesForEveryEyeAndInPrint(t *testing.T) {
	const n = 64
	for _, v := range []Vision{Usual, Protanopia, Deuteranopia, Tritanopia, Grey} {
		for i := range n {
			lower, upper := ToLab(Seen(At(float64(i)/n), v)), ToLab(Seen(At(float64(i+1)/n), v))
			assert.Greater(t, upper.L, lower.L, "vision %d, step %d", v, i)
		}
	}
}

// A grey print must be read as evenly as the screen: no step of ten may shrink below
// two thirds of the mean step in lightness.
func TestStepsStayEvenForEveryEyeAndInPrint(t *testing.T) {
	const n = 10
	for _, v := range []Vision{Protanopia, Deuteranopia, Tritanopia, Grey} {
		seen := func(i int) Lab { return ToLab(Seen(At(float64(i)/n), v)) }
		mean := (seen(n).L - seen(0).L) / n
		for i := range n {
			assert.Greater(t, seen(i+1).L-seen(i).L, mean*2/3, "vision %d, step %d", v, i)
		}
	}
}

// 0.05 in OKLab is some two and a half just noticeable steps (Ottosson 2020 gives about
// 0.02 for one, from memory).
func TestMarksAreUnlikeTheSequenceAndEachOther(t *testing.T) {
	for _, v := range []Vision{Usual, Protanopia, Deuteranopia, Tritanopia} {
		for i, m := range Marks() {
			mark := ToLab(Seen(m.Colour(), v))
			for _, band := range Bands(12) {
				assert.Greater(t, mark.Distance(ToLab(Seen(band, v))), 0.05, "vision %d, mark %d", v, m)
			}
			for _, other := range Marks()[i+1:] {
				assert.Greater(t, mark.Distance(ToLab(Seen(other.Colour(), v))), 0.05, "vision %d: %d and %d", v, m, other)
			}
		}
	}
}

// Machado et al. (2009): each row of a matrix sums to one, so greys stay as they are.
func TestGreysLookTheSameToEveryEye(t *testing.T) {
	for _, v := range []Vision{Usual, Protanopia, Deuteranopia, Tritanopia, Grey} {
		for g := 0; g < 256; g += 5 {
			grey := color.RGBA{uint8(g), uint8(g), uint8(g), 255}
			assert.Equal(t, grey, Seen(grey, v))
		}
	}
}

func TestBandsAreTheMiddlesOfTheirShares(t *testing.T) {
	assert.Equal(t, []color.RGBA{At(0.25), At(0.75)}, Bands(2))
	assert.Equal(t, At(0), At(-3))
	assert.Equal(t, At(1), At(7))
}
