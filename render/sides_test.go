package render

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry"
)

func TestPlaceIsWordedAlongTheTanksOwnSides(t *testing.T) {
	filler := geometry.V(0.12, 0.12, 0.19)
	patch := geometry.V(-0.06, 0.18, 0.07)
	assert.Equal(t, "180 mm to the rear, 60 mm to the left, 120 mm down", Sides{}.Place(filler, patch))
	assert.Equal(t, "180 mm to the front, 60 mm to the right, 120 mm up", Sides{}.Place(patch, filler))
	assert.Equal(t, "right there", Sides{}.Place(filler, filler))

	turned := Sides{Front: geometry.V(0, -1, 0), Left: geometry.V(1, 0, 0)}
	assert.Equal(t, "60 mm to the rear, 180 mm to the right, 120 mm down", turned.Place(filler, patch))
}

func TestNamesOfDirections(t *testing.T) {
	s := Sides{}
	assert.Equal(t, "front", s.Name(geometry.V(2, 0.1, 0)))
	assert.Equal(t, "left front", s.Name(geometry.V(1, 1.2, 0)))
	assert.Equal(t, "front right", s.Name(geometry.V(1, -0.6, 0)))
	assert.Equal(t, "bottom", s.Name(geometry.V(0, 0.2, -1)))
}

// Every view must be right-handed with the viewer inside, or its picture is mirrored.
func TestViewsAreNotMirrored(t *testing.T) {
	turned := Sides{Front: geometry.V(0, -1, 0), Left: geometry.V(1, 0, 0)}
	for _, s := range []Sides{{}, turned} {
		for _, v := range sixViews(s) {
			assert.InDelta(t, 0, v.right.Cross(v.up).Dist(v.toward.Scale(-1)), 1e-12, v.title)
			assert.Equal(t, v.edge.right, s.Name(v.right), v.title)
			assert.Equal(t, v.edge.left, s.Name(v.right.Scale(-1)), v.title)
			if v.edge.top != "" {
				assert.Equal(t, v.edge.top, s.Name(v.up), v.title)
			}
		}
	}
}
