package field

import (
	"math"
	"testing"

	"evenwall/geometry"
)

// halfGap is how far the rod stands from each plane, and half the square's side, m.
const halfGap = 0.100

// strip returns the exact field per V of a thin rod midway between planes y = ±halfGap:
// -ln|tanh(pi (x+iy) / (4 z))| over its value at the rod (method of images).
func strip(p geometry.Vec) float64 {
	x, y := math.Pi*p.X/(2*halfGap), math.Pi*p.Y/(2*halfGap)
	return -0.5 * math.Log((math.Cosh(x)-math.Cos(y))/(math.Cosh(x)+math.Cos(y)))
}

// square is the same in a square: strips mirrored in x = ±halfGap with turned signs.
func square(p geometry.Vec) float64 {
	sum := 0.0
	for n := -8; n <= 8; n++ {
		v := strip(geometry.V(p.X-2*halfGap*float64(n), p.Y, 0))
		if n%2 != 0 {
			v = -v
		}
		sum += v
	}
	return sum
}

// lineRow solves a 12 mm rod in a prism whose field is shape/ln(ratio) per V, the current
// per metre 2 pi kappa / ln(ratio).
func lineRow(t *testing.T, r exactRow, rg *rig, log float64) exactRow {
	rg.held = func(held func(geometry.Vec) (float64, bool)) func(geometry.Vec) (float64, bool) {
		return func(p geometry.Vec) (float64, bool) {
			v, ok := held(p)
			return math.Min(1, v/log), ok
		}
	}(rg.held)
	rg.h = DefaultSpacing(0)
	s := rg.solve(t)
	r.measured(t, "R", percent(s.middle(), 2*math.Pi*cellKappa/log), 0.5)
	return r
}

// unscaled drops the cut at 1 V that ended makes, which lineRow makes after scaling.
func unscaled(rg *rig, shape func(geometry.Vec) float64) *rig {
	rg.held = func(p geometry.Vec) (float64, bool) { return shape(p), true }
	return rg
}

// planesRow: Incropera and DeWitt, table 4.1, case 5: S/L = 2 pi / ln(8 z / (pi D)).
func planesRow(t *testing.T) exactRow {
	mesh, _ := prism([][2]float64{{-0.15, -halfGap}, {0.15, -halfGap}, {0.15, halfGap}, {-0.15, halfGap}}, cellLength, 1)
	steel := func(f int) bool { return f < 8 && f/2%2 == 0 }
	r := exactRow{what: "rod midway between planes", against: "exact (Incropera and DeWitt, table 4.1)"}
	return lineRow(t, r, unscaled(ended(mesh, steel, 0, nil), strip), math.Log(8*halfGap/(math.Pi*2*rodRadius)))
}

// squareRow: case 6 with the thin rod's exact constant 1.0787 in place of 1.08.
func squareRow(t *testing.T) exactRow {
	mesh, _ := prism([][2]float64{{-halfGap, -halfGap}, {halfGap, -halfGap}, {halfGap, halfGap}, {-halfGap, halfGap}}, cellLength, 1)
	steel := func(f int) bool { return f < 8 }
	r := exactRow{what: "rod in a square", against: "exact (Incropera and DeWitt, table 4.1, constant 1.0787)"}
	return lineRow(t, r, unscaled(ended(mesh, steel, 0, nil), square), math.Log(1.0787*2*halfGap/(2*rodRadius)))
}

// twoRodsRow: case 4, 12 mm rods at 100 mm: the rod at 1 V against one of mesh at 0 V, the
// exact field on a drum round both.
func twoRodsRow(t *testing.T) exactRow {
	const w = 0.100
	c := math.Sqrt(w*w/4 - rodRadius*rodRadius) // the lines of charge
	shape := func(p geometry.Vec) float64 {
		return math.Log(math.Hypot(p.X+c, p.Y) / math.Hypot(p.X-c, p.Y))
	}
	whole := math.Acosh((4*w*w - 8*rodRadius*rodRadius) / (8 * rodRadius * rodRadius)) // of 1 V between the rods
	mesh, _ := prism(circle(0.12, 360), cellLength, 30)
	other, _ := prism(circle(rodRadius, 60), cellLength-2e-5, 150)
	first := len(mesh.Faces)
	for i := range other.Faces { // the liquid is outside it
		f := &other.Faces[i]
		f[0], f[1] = f[1], f[0]
	}
	mesh.Append(other.Transformed(func(v geometry.Vec) geometry.Vec { v.X -= w / 2; return v }))
	rg := ended(mesh, func(f int) bool { return f >= first }, w/2, nil)
	rg.held = func(p geometry.Vec) (float64, bool) { return whole/2 + shape(p), true }
	r := exactRow{what: "two rods, one of them a mesh", against: "exact (Incropera and DeWitt, table 4.1)"}
	return lineRow(t, r, rg, whole)
}
