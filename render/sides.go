package render

import (
	"fmt"
	"math"
	"strings"

	"evenwall/geometry"
)

// toward returns the words for going or looking to a side.
func toward(side geometry.Side) string {
	switch side.Name {
	case "top":
		return "up"
	case "bottom":
		return "down"
	}
	return "to the " + side.Name
}

// looking returns the words for looking along d, one of the six directions.
func looking(s geometry.Sides, d geometry.Vec) string {
	for _, side := range s.All() {
		if d.Dot(side.Direction) > 0.9 {
			return toward(side)
		}
	}
	return ""
}

// Whereabout says where p lies as seen from another point, in whole millimetres along the
// tank's sides: 180 mm to the rear, 60 mm to the left, 120 mm down.
func Whereabout(s geometry.Sides, from, p geometry.Vec) string {
	var words []string
	for _, side := range s.All() {
		if mm := math.Round(p.Sub(from).Dot(side.Direction) * 1000); mm >= 1 {
			words = append(words, fmt.Sprintf("%.0f mm %s", mm, toward(side)))
		}
	}
	if len(words) == 0 {
		return "right there"
	}
	return strings.Join(words, ", ")
}
