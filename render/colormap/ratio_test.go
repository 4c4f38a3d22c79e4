package colormap

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRatioStaysWithinTheScreensGamut(t *testing.T) {
	for i := range 201 {
		assert.True(t, ratio(float64(i-100)/100).toLinear().inGamut(), "at %d %%", i-100)
	}
}

// Less is darker and more is brighter than alike, for every eye and in print.
func TestRatioRisesInLightnessForEveryEyeAndInPrint(t *testing.T) {
	const n = 11 // as many steps as the pictures have
	for _, v := range []Vision{Usual, Protanopia, Deuteranopia, Tritanopia, Grey} {
		for i := range n - 1 {
			lower, upper := ToLab(Seen(Ratio(2*float64(i)/(n-1)-1), v)), ToLab(Seen(Ratio(2*float64(i+1)/(n-1)-1), v))
			assert.Greater(t, upper.L-lower.L, 0.02, "vision %d, step %d", v, i)
		}
	}
	assert.Equal(t, Ratio(-1), Ratio(-7))
	assert.Equal(t, Ratio(1), Ratio(7))
}

// As of the marks: 0.05 in OKLab is some two and a half just noticeable steps (Ottosson
// 2020, from memory).
func TestWhatIsOffTheRatioIsUnlikeItsEnds(t *testing.T) {
	below, above := RatioEnds()
	for _, v := range []Vision{Usual, Protanopia, Deuteranopia, Tritanopia} {
		assert.Greater(t, ToLab(Seen(below, v)).Distance(ToLab(Seen(Ratio(-1), v))), 0.05, "vision %d", v)
		assert.Greater(t, ToLab(Seen(above, v)).Distance(ToLab(Seen(Ratio(1), v))), 0.05, "vision %d", v)
	}
}
