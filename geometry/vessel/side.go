package vessel

import (
	"strings"

	"evenwall/geometry"
)

// Sides tells the tank's sides by its own axes: front +x, rear −x, left +y, right −y, top
// +z, bottom −z.
type Sides struct{ Bounds geometry.Box }

// Sides returns the sides of the shell.
func (v *Vessel) Sides() Sides { return Sides{v.Shell.Bounds()} }

// Words says where p is by thirds of the bounds along each axis, as in "front left
// bottom"; middle thirds are left out, and "middle" stands for all three of them.
func (s Sides) Words(p geometry.Vec) string {
	var words []string
	names := [3][2]string{{"rear", "front"}, {"right", "left"}, {"bottom", "top"}}
	for axis, name := range names {
		low, high := s.Bounds.Min.Axis(axis), s.Bounds.Max.Axis(axis)
		switch third := (high - low) / 3; {
		case p.Axis(axis) < low+third:
			words = append(words, name[0])
		case p.Axis(axis) > high-third:
			words = append(words, name[1])
		}
	}
	if len(words) == 0 {
		return "middle"
	}
	return strings.Join(words, " ")
}

// Facing returns the one side that direction d points to most.
func (s Sides) Facing(d geometry.Vec) string {
	names := [3][2]string{{"rear", "front"}, {"right", "left"}, {"bottom", "top"}}
	best := 0
	for axis := range 3 {
		if abs(d.Axis(axis)) > abs(d.Axis(best)) {
			best = axis
		}
	}
	if d.Axis(best) < 0 {
		return names[best][0]
	}
	return names[best][1]
}

func abs(x float64) float64 { return max(x, -x) }
