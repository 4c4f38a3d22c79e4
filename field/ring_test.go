package field

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// From afar a ring's multipoles give what the elliptic integrals give, from the distance on
// where they take over: potential and both parts of the current to 1e-6 of their size, in every
// direction, on the axis too.
func TestRingFromAfarIsTheRing(t *testing.T) {
	const a = 0.005
	for _, r := range []float64{0.98 * far * a, 12 * a, 100 * a} {
		for angle := 0.0; angle <= math.Pi; angle += math.Pi / 24 {
			rho, z := r*math.Sin(angle), r*math.Cos(angle)
			v, jr, jz := ringFromAfar(a, rho, z)
			want, wantR, wantZ := ringNear(a, rho, z)
			assert.InEpsilon(t, want, v, 1e-6, "%g at %g", angle, r)
			assert.InDelta(t, wantR, jr, 1e-6*v/r, "%g at %g", angle, r)
			assert.InDelta(t, wantZ, jz, 2e-6*v/r, "%g at %g", angle, r)
		}
	}
}
