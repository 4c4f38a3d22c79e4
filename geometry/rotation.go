package geometry

import "math"

// Rotation turns vectors about the origin: rows of an orthonormal, right-handed
// matrix. Identity returns the one that changes nothing; the zero value is not a rotation.
type Rotation [3]Vec

// Identity returns the rotation that leaves every vector as it is.
func Identity() Rotation { return Rotation{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} }

// Apply returns v turned by r.
func (r Rotation) Apply(v Vec) Vec { return Vec{r[0].Dot(v), r[1].Dot(v), r[2].Dot(v)} }

// Inverse returns the rotation that undoes r.
func (r Rotation) Inverse() Rotation {
	return Rotation{
		{r[0].X, r[1].X, r[2].X},
		{r[0].Y, r[1].Y, r[2].Y},
		{r[0].Z, r[1].Z, r[2].Z},
	}
}

// After returns the rotation that applies first, then r.
func (r Rotation) After(first Rotation) Rotation {
	t := first.Inverse()
	row := func(v Vec) Vec { return Vec{v.Dot(t[0]), v.Dot(t[1]), v.Dot(t[2])} }
	return Rotation{row(r[0]), row(r[1]), row(r[2])}
}

// RotationAbout returns the right-handed rotation by angle radians about axis
// (Rodrigues 1840). axis must not be zero.
func RotationAbout(axis Vec, angle float64) Rotation {
	k := axis.Unit()
	s, c := math.Sincos(angle)
	column := func(v Vec) Vec {
		return v.Scale(c).Add(k.Cross(v).Scale(s)).Add(k.Scale(k.Dot(v) * (1 - c)))
	}
	return Rotation{column(Vec{1, 0, 0}), column(Vec{0, 1, 0}), column(Vec{0, 0, 1})}.Inverse()
}

// Attitude returns the rotation from the tank's own frame into the propped one,
// Rx(roll) · Ry(pitch) about the fixed axes, in radians: pitch above 0 lowers
// +x, roll above 0 lifts +y.
func Attitude(pitch, roll float64) Rotation {
	return RotationAbout(Vec{1, 0, 0}, roll).After(RotationAbout(Vec{0, 1, 0}, pitch))
}
