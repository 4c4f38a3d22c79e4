package field

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry"
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

// From afar a cylinder's multipoles give what rings all along it do, potential and current, in every
// direction, to 2e-5.
func TestBandFromAfarIsItsRings(t *testing.T) {
	b := &band{axis: geometry.V(0, 0, 1), across: [2]geometry.Vec{{X: 1}, {Y: 1}}, s0: 0.01, s1: 0.02, r0: 0.004, r1: 0.004}
	size := math.Hypot(0.005, 0.004)
	for _, r := range []float64{1.001 * bandFar * size, 10 * size} {
		for angle := 0.0; angle <= math.Pi; angle += math.Pi / 24 {
			p := geometry.V(r*math.Sin(angle), 0, 0.015+r*math.Cos(angle))
			want, wantJ := 0.0, geometry.Vec{}
			const n = 400
			for i := range n {
				g, share := b.ring((float64(i) + 0.5) / n)
				v, jr, jz := ringNear(g.radius, p.X, p.Z-g.centre.Z)
				want, wantJ = want+v*share/n, wantJ.Add(geometry.V(jr, 0, jz).Scale(share/n))
			}
			v, j := b.flux(p)
			assert.InEpsilon(t, want, v, 2e-5)
			assert.InDelta(t, 0, j.Dist(wantJ)/wantJ.Norm(), 1e-4)
			assert.Equal(t, v, b.potential(p))
		}
	}
}
