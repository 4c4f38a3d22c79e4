package render

import (
	"fmt"
	"math"
	"strings"

	"evenwall/geometry"
)

// Sides names the six directions of the tank's own frame. The zero value is front at
// +x and left at +y. Top is always +z.
type Sides struct {
	Front geometry.Vec // unit, horizontal, along an axis
	Left  geometry.Vec // unit, horizontal, perpendicular to Front
}

// front and left return the directions with the default filled in.
func (s Sides) front() geometry.Vec {
	if s.Front == (geometry.Vec{}) {
		return geometry.Vec{X: 1}
	}
	return s.Front
}

func (s Sides) left() geometry.Vec {
	if s.Left == (geometry.Vec{}) {
		return geometry.Vec{Y: 1}
	}
	return s.Left
}

// named lists the directions with the word for each, opposite ones side by side.
func (s Sides) named() []namedSide {
	front, left, up := s.front(), s.left(), geometry.Vec{Z: 1}
	return []namedSide{
		{front, "front", "to the front"}, {front.Scale(-1), "rear", "to the rear"},
		{left, "left", "to the left"}, {left.Scale(-1), "right", "to the right"},
		{up, "top", "up"}, {up.Scale(-1), "bottom", "down"},
	}
}

type namedSide struct {
	direction geometry.Vec
	name      string // front
	toward    string // to the front
}

// Name returns the word for the side that direction d points at. Between two sides it
// names both, the nearer one first: front left.
func (s Sides) Name(d geometry.Vec) string {
	const leaning = 0.38 // sine of 22.5 degrees: beyond it the second side is named too
	d = d.Unit()
	var words []string
	best := -1.0
	for _, side := range s.named() {
		c := d.Dot(side.direction)
		switch {
		case c < leaning:
		case c > best:
			words = append([]string{side.name}, words...)
			best = c
		default:
			words = append(words, side.name)
		}
	}
	return strings.Join(words, " ")
}

// toward returns the words for looking along d, one of the six directions.
func (s Sides) toward(d geometry.Vec) string {
	for _, side := range s.named() {
		if d.Dot(side.direction) > 0.9 {
			return side.toward
		}
	}
	return ""
}

// Place says where p lies as seen from another point, in whole millimetres along the
// tank's sides: 180 mm to the rear, 60 mm to the left, 120 mm down.
func (s Sides) Place(from, p geometry.Vec) string {
	var words []string
	for _, side := range s.named() {
		if mm := math.Round(p.Sub(from).Dot(side.direction) * 1000); mm >= 1 {
			words = append(words, fmt.Sprintf("%.0f mm %s", mm, side.toward))
		}
	}
	if len(words) == 0 {
		return "right there"
	}
	return strings.Join(words, ", ")
}
