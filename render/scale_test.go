package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/render/colormap"
)

func TestRoundNumbersBracketTheValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := math.Pow(10, rapid.Float64Range(-6, 6).Draw(t, "log"))
		up, down := roundUp(v), roundDown(v)
		assert.GreaterOrEqual(t, up, v*(1-1e-9))
		assert.LessOrEqual(t, down, v*(1+1e-9))
		assert.LessOrEqual(t, up/down, 2.5+1e-9, "the widest step of 1, 2, 5, 10")
	})
	assert.Equal(t, []float64{0.2, 1, 50}, []float64{roundUp(0.15), roundUp(1), roundUp(21)})
	assert.Equal(t, []float64{0.1, 1, 20}, []float64{roundDown(0.15), roundDown(1), roundDown(21)})
}

func TestBandsCoverTheScaleWithoutAGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := math.Pow(10, rapid.Float64Range(-4, 2).Draw(t, "low"))
		s := Scale{low, low * math.Pow(10, rapid.Float64Range(0.1, 4).Draw(t, "decades"))}
		b := s.bands()
		assert.Equal(t, s.Low, b.edges[0])
		assert.Equal(t, s.High, b.edges[len(b.edges)-1])
		assert.LessOrEqual(t, len(b.colour), 12)
		assert.IsIncreasing(t, b.edges)
		assert.Equal(t, colormap.Under.Colour(), b.at(b.logs[0]-0.01))
		assert.Equal(t, colormap.Over.Colour(), b.at(b.logs[len(b.logs)-1]+0.01))
		for i := range b.colour {
			assert.Equal(t, b.colour[i], b.at((b.logs[i]+b.logs[i+1])/2))
		}
	})
}

func TestTwoPicturesShareOneScale(t *testing.T) {
	a, b := plateOf(0.3, 0.4, 0.5), plateOf(20, 30, 41)
	assert.Equal(t, Scale{0.2, 50}, ScaleFor(a, b), "from 0.3 to 41 A/m², round ends")
	assert.Equal(t, ScaleFor(a, b), ScaleFor(b, a))
	assert.Equal(t, Scale{5, 50}, ScaleFor(plateOf(20, 30, 41)), "a decade at least")
	assert.Equal(t, Scale{0.005, 50}, ScaleFor(plateOf(1e-6, 41)), "four decades at most, counted from the top")
	assert.Equal(t, Scale{0.1, 10}, ScaleFor(plateOf(math.NaN())), "no figure at all: something to draw with")
}

func TestFiguresHaveTwoOrThreeDigitsAndNoExponent(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 1.2e-8: "under 0.0001", 0.00213: "0.0021", 0.5: "0.5", 1: "1", 1.26: "1.3", 41.4: "41", 99.6: "100", 123.4: "123", 1234: "1230",
	} {
		assert.Equal(t, want, figure(v))
	}
}

// plateOf returns separate unit facets, one with each figure.
func plateOf(values ...float64) Surface {
	s := Surface{Value: values}
	for i := range values {
		x := 2 * float64(i)
		s.Mesh.Append(geometry.Mesh{
			Vertices: []geometry.Vec{geometry.V(x, 0, 0), geometry.V(x+1, 0, 0), geometry.V(x, 1, 0)},
			Faces:    [][3]int32{{0, 1, 2}},
		})
	}
	return s
}
