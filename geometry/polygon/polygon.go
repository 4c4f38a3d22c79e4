// Package polygon cuts flat outlines, with or without holes, into triangles.
package polygon

import "math"

// Point is a point of the plane, in metres.
type Point struct{ X, Y float64 }

// cross returns twice the signed area of the triangle a, b, c: positive when it runs
// anticlockwise, m².
func cross(a, b, c Point) float64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}

func dist2(a, b Point) float64 {
	dx, dy := a.X-b.X, a.Y-b.Y
	return dx*dx + dy*dy
}

// Area returns the signed area of the outline, m²: positive when it runs anticlockwise.
func Area(outline []Point) float64 {
	sum := 0.0
	for i := range outline {
		sum += cross(outline[0], outline[i], outline[(i+1)%len(outline)])
	}
	return sum / 2
}

// Contains reports whether p lies inside the outline, which may run either way.
func Contains(outline []Point, p Point) bool {
	inside := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			inside = !inside
		}
	}
	return inside
}

// quality is the shape of a triangle, from 0 (no area, or clockwise) to 1 (equilateral).
func quality(a, b, c Point) float64 {
	longest := math.Max(dist2(a, b), math.Max(dist2(b, c), dist2(c, a)))
	if longest == 0 {
		return 0
	}
	return math.Max(0, cross(a, b, c)/longest*2/math.Sqrt(3))
}
