package table

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/field/electrode"
)

// A law looked up is the law to 1e-5 V, and its slope to a part in a thousand, over all current
// densities, either way; at a corner the slope is between both.
func TestLawLookedUp(t *testing.T) {
	for _, law := range []electrode.Law{electrode.DefaultWall(), electrode.Series{electrode.Film{Resistance: 0.002}, electrode.Sinh{Exchange: 1e-3, Slope: 0.14}}} {
		q := newQuick(law)
		for decade := -9.0; decade < 8; decade += 0.0173 {
			for _, j := range []float64{math.Pow(10, decade), -math.Pow(10, decade)} {
				want, wantSlope := law.Drop(j)
				got, slope := q.Drop(j)
				assert.InDelta(t, want, got, 3e-5, "%g A/m2", j)
				assert.InEpsilon(t, wantSlope, slope, 2e-3, "%g A/m2", j)
			}
		}
		volts, _ := q.Drop(0)
		assert.Zero(t, volts)
	}
}
