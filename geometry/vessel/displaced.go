package vessel

import (
	"math"

	"evenwall/geometry"
)

// Displaced returns the volume of rod and sleeve under the surface, m³. Each stretch is
// cut where its axis meets the surface, which is exact unless the surface runs through
// one of its ends.
func Displaced(r *geometry.Rod, surface geometry.Plane) float64 {
	sum, at := 0.0, 0.0
	add := func(to, radius float64) {
		for _, piece := range r.Pieces(at, to) {
			sum += math.Pi * radius * radius * lengthBelow(piece, surface)
		}
		at = max(at, to)
	}
	sleeve := max(r.Sleeve, r.Radius)
	for _, bare := range r.Bare {
		add(bare.From, sleeve)
		add(bare.To, r.Radius)
	}
	add(r.Length(), sleeve)
	if bareTip := len(r.Bare) > 0 && r.Bare[0].From == 0; bareTip && !r.Flat && surface.Height(r.Path[0]) < 0 {
		sum -= math.Pi / 3 * r.Radius * r.Radius * r.Radius // a hemisphere instead of as much cylinder
	}
	return sum
}

// lengthBelow returns the length of a straight piece under the surface, m.
func lengthBelow(piece [2]geometry.Vec, surface geometry.Plane) float64 {
	a, b := surface.Height(piece[0]), surface.Height(piece[1])
	length := piece[0].Dist(piece[1])
	switch {
	case a <= 0 && b <= 0:
		return length
	case a >= 0 && b >= 0:
		return 0
	default:
		return length * min(a, b) / (min(a, b) - max(a, b))
	}
}
