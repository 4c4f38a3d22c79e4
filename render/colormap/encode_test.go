package colormap

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Against the formula of IEC 61966-2-1 itself.
func TestEncodeIsTheFormula(t *testing.T) {
	formula := func(v float64) uint8 {
		if v <= 0.0031308 {
			return uint8(math.Round(255 * 12.92 * v))
		}
		return uint8(math.Round(255 * (1.055*math.Pow(v, 1/2.4) - 0.055)))
	}
	for i := range 200001 {
		v := float64(i) / 200000
		assert.InDelta(t, formula(v), encode(v), 0, "%g", v)
	}
	for c := range 256 {
		assert.EqualValues(t, c, encode(decodeChannel(uint8(c))))
	}
}
