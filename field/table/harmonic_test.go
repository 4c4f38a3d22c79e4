package table

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"evenwall/geometry"
)

func drawPoint(t *rapid.T, label string) geometry.Vec {
	x := rapid.Float64Range(-2, 2)
	return geometry.V(x.Draw(t, label+"x"), x.Draw(t, label+"y"), x.Draw(t, label+"z"))
}

// The addition theorem: of two points the products of one degree's harmonics add up to
// r^l s^l P_l(cos). P_4(c) = (35c⁴ − 30c² + 3)/8.
func TestAdditionTheorem(t *testing.T) {
	b := newBasis()
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawPoint(t, "p"), drawPoint(t, "q")
		u, _ := b.at(p)
		v, _ := b.at(q)
		rs := p.Norm() * q.Norm()
		if rs < 1e-3 {
			return
		}
		c := p.Dot(q) / rs
		legendre := [5]float64{1, c, (3*c*c - 1) / 2, (5*c*c*c - 3*c) / 2, (35*c*c*c*c - 30*c*c + 3) / 8}
		for l := range 5 {
			sum := 0.0
			for k := l * l; k < (l+1)*(l+1); k++ {
				sum += u[k] * v[k]
			}
			assert.InDelta(t, math.Pow(rs, float64(l))*legendre[l], sum, 1e-9*(1+math.Pow(rs, float64(l))))
		}
	})
}

// Slopes against central differences.
func TestSlopes(t *testing.T) {
	b := newBasis()
	rapid.Check(t, func(t *rapid.T) {
		p := drawPoint(t, "p")
		_, slope := b.at(p)
		for axis := range 3 {
			const d = 1e-5
			ahead, _ := b.at(p.WithAxis(axis, p.Axis(axis)+d))
			back, _ := b.at(p.WithAxis(axis, p.Axis(axis)-d))
			for k := range ahead {
				assert.InDelta(t, (ahead[k]-back[k])/(2*d), slope[axis][k], 1e-6)
			}
		}
	})
}
