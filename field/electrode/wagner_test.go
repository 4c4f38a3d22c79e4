package electrode

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Wa = κ·b/(2.303·j·ℓ) with b = 0.12 V and ℓ = 0.1 m, in 0.3 % and 1 % soda at 0.44 and
// 1.31 S/m: derived values, to the two places they are given in.
func TestWagnerAtWorkingCurrents(t *testing.T) {
	for _, c := range []struct{ kappa, j, want, last float64 }{
		{0.44, 1, 0.23, 0.005}, {0.44, 10, 0.023, 0.0005}, {0.44, 30, 0.008, 0.0005},
		{1.31, 1, 0.68, 0.005}, {1.31, 10, 0.068, 0.0005}, {1.31, 30, 0.023, 0.0005},
	} {
		assert.InDelta(t, c.want, Wagner(DefaultWall(), c.j, c.kappa, 0.1), c.last, "%+v", c)
	}
}

// At rest the law is a resistance of slope/(2·j0·ln 10) = 0.87 ohm m²: about 5 at 0.6 S/m
// and 0.1 m, so the far wall is not primary.
func TestWagnerAtRest(t *testing.T) {
	_, slope := DefaultWall().Drop(0)
	assert.InDelta(t, 0.87, slope, 0.005)
	wa := Wagner(DefaultWall(), 0, 0.6, 0.1)
	assert.InDelta(t, 5, wa, 0.25)
	assert.Equal(t, LawRules, RuleOf(wa))
	assert.Equal(t, GeometryRules, RuleOf(Wagner(DefaultWall(), 10, 0.44, 0.1)))
	assert.Equal(t, BothCount, RuleOf(Wagner(DefaultWall(), 1, 0.44, 0.1)))
	assert.NotEqual(t, GeometryRules.String(), LawRules.String())
}
