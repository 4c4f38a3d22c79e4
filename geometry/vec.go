package geometry

import (
	"fmt"
	"math"
)

// Vec is a point or a displacement, in metres. The zero value is the origin.
type Vec struct{ X, Y, Z float64 }

// V is short for Vec{x, y, z}.
func V(x, y, z float64) Vec { return Vec{x, y, z} }

func (a Vec) Add(b Vec) Vec       { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) Sub(b Vec) Vec       { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) Scale(s float64) Vec { return Vec{a.X * s, a.Y * s, a.Z * s} }
func (a Vec) Dot(b Vec) float64   { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) Norm() float64       { return math.Sqrt(a.Dot(a)) }
func (a Vec) Dist(b Vec) float64  { return a.Sub(b).Norm() }
func (a Vec) AddScaled(b Vec, s float64) Vec {
	return Vec{a.X + b.X*s, a.Y + b.Y*s, a.Z + b.Z*s}
}

// Cross returns the right-handed vector product a × b.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Unit returns a scaled to length 1, or the zero vector when a is zero.
func (a Vec) Unit() Vec {
	n := a.Norm()
	if n == 0 {
		return Vec{}
	}
	return a.Scale(1 / n)
}

// Lerp returns the point at fraction t of the way from a to b.
func (a Vec) Lerp(b Vec, t float64) Vec { return a.AddScaled(b.Sub(a), t) }

// Axis returns the coordinate along axis 0 (x), 1 (y) or 2 (z).
func (a Vec) Axis(axis int) float64 {
	switch axis {
	case 0:
		return a.X
	case 1:
		return a.Y
	default:
		return a.Z
	}
}

// WithAxis returns a copy of a with the coordinate along axis set to value.
func (a Vec) WithAxis(axis int, value float64) Vec {
	switch axis {
	case 0:
		a.X = value
	case 1:
		a.Y = value
	default:
		a.Z = value
	}
	return a
}

// IsFinite reports whether no coordinate is NaN or infinite.
func (a Vec) IsFinite() bool {
	return !math.IsNaN(a.X+a.Y+a.Z) && !math.IsInf(a.X, 0) && !math.IsInf(a.Y, 0) && !math.IsInf(a.Z, 0)
}

// Perpendicular returns two unit vectors u, v such that u, v, a are right-handed and
// mutually perpendicular. a need not be of unit length but must not be zero.
func (a Vec) Perpendicular() (u, v Vec) {
	pick := Vec{1, 0, 0}
	if math.Abs(a.X) > math.Abs(a.Y) {
		pick = Vec{0, 1, 0}
	}
	u = pick.Cross(a).Unit()
	return u, a.Cross(u).Unit()
}

// String prints the point in millimetres, as messages show it.
func (a Vec) String() string {
	return fmt.Sprintf("[%.1f, %.1f, %.1f] mm", a.X*1000, a.Y*1000, a.Z*1000)
}
