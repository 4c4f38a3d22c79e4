package field

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry"
)

// Round a rod in a shell, both at fixed potentials and the ends insulated, the field is level:
// phi = ln(r)/ln(ratio) solves div(kappa(z) grad phi) = 0 for any layers. So each height
// takes current by its own conductivity, exactly.
func TestLayersRoundARod(t *testing.T) {
	const length = 0.12
	profiles := map[string]func(z float64) float64{
		"warm above":   func(z float64) float64 { return 1 + 2*z },
		"froth on top": func(z float64) float64 { return 1 - 0.3/(1+math.Exp((0.04-z)/0.004)) },
	}
	for name, layers := range profiles {
		t.Run(name, func(t *testing.T) {
			c := cell{h: 0.004}
			mesh, side := tubeMesh(shellRadius, length, 360)
			level := length / 2
			r := &rig{mesh: mesh, steel: func(f int) bool { return f < side }, turn: geometry.RotationAbout(geometry.V(0, 0, 1), 0.3), h: c.h,
				surface: &level, mirrors: endMirrors(length), rods: []geometry.Rod{longRod(0, length)},
				insulated: func(p geometry.Vec) bool { return math.Abs(p.Z) > length/2-1e-4 }, layers: layers}
			s := r.solve(t)
			all, _ := s.read()
			m := compare(all, func(p *reading) (float64, bool) {
				return c.wallCurrent(0) * layers(p.Centre.Z), math.Abs(p.Centre.Z) < length/2-0.01
			})
			want := 0.0
			const slices = 6000
			for i := range slices {
				want += c.perVolt() * layers(length*((float64(i)+0.5)/slices-0.5)) * length / slices
			}
			t.Logf("current %+.3f %%, wall current L2 %.2f %%, worst %.2f %%", percent(s.Current, want), m.l2, m.most)
			assert.InDelta(t, 0, percent(s.Current, want), 0.5)
			assert.Less(t, m.l2, 1.0)
			assert.InDelta(t, 1, s.Balance, 1e-3)
		})
	}
}
