package field

import (
	"math"
	"testing"

	"evenwall/geometry"
)

// halfSpaceRow: a driven rod 50 radii long under the liquid's surface, in half balls of two
// and three of its lengths, extrapolated in 1/radius to liquid without end. Dwight (1936),
// AIEE Trans. 55, 1319, less his formula's excess of 1.4 % for a round end (axisymmetric
// boundary elements, a derived figure).
func halfSpaceRow(t *testing.T) exactRow {
	const l, a, excess = 0.1, 0.002, 1.014
	resistance := func(far float64) float64 {
		mesh, base := dome(far, 60, 240)
		upside := mesh.Transformed(geometry.RotationAbout(geometry.V(1, 0, 0), math.Pi).Apply)
		surface := 0.0
		rg := &rig{mesh: upside, steel: func(f int) bool { return f < base }, turn: geometry.Identity(), h: 0.004, surface: &surface,
			insulated: func(p geometry.Vec) bool { return p.Z > -1e-6 }, // no lid
			rods:      []geometry.Rod{uprightRod(l, a)}}
		return 1 / rg.solve(t).Current
	}
	near, far := resistance(2*l), resistance(3*l)
	endless := 3*far - 2*near // R = endless − constant/radius
	dwight := (math.Log(4*l/a) - 1) / (2 * math.Pi * cellKappa * l)
	r := exactRow{what: "rod in a half-space, far wall extrapolated", against: "Dwight (1936) less its excess of 1.4 %"}
	r.measured(t, "R", percent(endless, dwight/excess), 1)
	return r
}

// decayRow: beyond the rod's end in a tube of radius R the primary current falls as
// exp(−2.405 z/R), 2.405 the first zero of J0; the second, 5.520, is gone after 1.7 R.
func decayRow(t *testing.T) exactRow {
	const radius, length = 0.050, 0.400
	mesh, _ := prism(circle(radius, 360), length, 60)
	rg := &rig{mesh: mesh, turn: oddTurn(), h: DefaultSpacing(0), rods: []geometry.Rod{{Radius: rodRadius,
		Path: geometry.Straight(geometry.V(0, 0, -0.050), geometry.V(0, 0, -0.170)), Bare: []geometry.Span{{From: 0, To: 0.120}}}}}
	all, _ := rg.solve(t).read()
	// ln j against z by least squares
	var n, sz, sl, szz, szl float64
	for _, p := range all {
		z := p.Centre.Z + 0.050
		if z < 1.8*radius || z > 3.6*radius || p.j <= 0 || math.Hypot(p.Centre.X, p.Centre.Y) < 0.9*radius {
			continue
		}
		l := math.Log(p.j)
		n, sz, sl, szz, szl = n+1, sz+z, sl+l, szz+z*z, szl+z*l
	}
	slope := (n*szl - sz*sl) / (n*szz - sz*sz)
	r := exactRow{what: "beyond the rod's end in a tube", against: "exact decay, exp(-2.405 z/R)"}
	r.measured(t, "decay length", percent(-1/slope, radius/2.404826), 1)
	return r
}
