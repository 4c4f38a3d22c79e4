package field

import (
	"math"
	"testing"

	"evenwall/geometry"
)

// discOff: a disc of radius 45 mm, 15 spacings, on an insulating plane under half a ball
// that holds the exact potential. Newman (1966), J. Electrochem. Soc. 113, 501: R = 1/(4 kappa a)
// and, from memory, phi = (2/pi) asin(2a / (sqrt((r−a)²+z²) + sqrt((r+a)²+z²))).
func discOff(t *testing.T, turn geometry.Rotation, surface *float64) (off float64) {
	const a, far, h = 0.045, 0.120, 0.003
	mesh, base := dome(far, 60, 240)
	exact := func(p geometry.Vec) float64 {
		r := math.Hypot(p.X, p.Y)
		return 2 / math.Pi * math.Asin(math.Min(1, 2*a/(math.Hypot(r-a, p.Z)+math.Hypot(r+a, p.Z))))
	}
	onPlane := func(p geometry.Vec) bool { return p.Z < 1e-4 }
	rg := &rig{mesh: mesh, turn: turn, h: h, surface: surface, steel: func(f int) bool { return f >= base },
		insulated: func(p geometry.Vec) bool { return onPlane(p) && math.Hypot(p.X, p.Y) > a },
		held:      func(p geometry.Vec) (float64, bool) { return exact(p) - 1, true }}
	// the disc is the wall, at 0 V, the ball's surface below it: current out of the wall
	s := rg.solve(t)
	return percent(-s.intoSteel(), 4*cellKappa*a)
}

// discRow: the plane on a face of the lattice, as a tank's floor or a plug may lie, and
// askew, where cells stand on the insulator in steps.
func discRow(t *testing.T) exactRow {
	r := exactRow{what: "disc on an insulating plane, radius 15 spacings", against: "exact (Newman 1966)"}
	onFace := 44 * 0.003 // a whole number of cells above the plane
	r.measured(t, "R", discOff(t, geometry.RotationAbout(geometry.V(0, 0, 1), 0.3), &onFace), 0.5)
	r.short(t, "R, plane askew", discOff(t, oddTurn(), nil), 0.5, 3)
	return r
}
