package bath

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRangeArithmetic(t *testing.T) {
	r := Around(10, 0.2)
	assert.Equal(t, Range{8, 10, 12}, r)
	assert.Equal(t, Range{-24, -20, -16}, r.Scale(-2))
	assert.Equal(t, Range{9, 11, 13}, r.Plus(Exactly(1)))
	assert.Equal(t, Range{3, 10, 12}, r.Union(Exactly(3)))
	assert.True(t, r.Contains(8) && !r.Contains(7.9))
	assert.Equal(t, Range{-12, -10, -8}, Around(-10, 0.2))
}

// The words that no output uses, against all that this package has to say to a person.
func TestCautionsKeepToTheWords(t *testing.T) {
	for _, p := range Products() {
		caution := strings.ToLower(p.Caution())
		assert.NotEmpty(t, caution)
		for _, word := range []string{"safe", "clean", "done", "guaranteed", "harmless", "no risk", "gas-free", "sufficient ventilation", "leave overnight"} {
			assert.NotContains(t, caution, word, p.String())
		}
	}
	assert.Contains(t, Lye.Caution(), "goggles")
}
