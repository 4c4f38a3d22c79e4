package render

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry"
)

func TestPlaceIsWordedAlongTheTanksOwnSides(t *testing.T) {
	filler := geometry.V(0.12, 0.12, 0.19)
	patch := geometry.V(-0.06, 0.18, 0.07)
	assert.Equal(t, "180 mm to the rear, 60 mm to the left, 120 mm down", Whereabout(geometry.Sides{}, filler, patch))
	assert.Equal(t, "180 mm to the front, 60 mm to the right, 120 mm up", Whereabout(geometry.Sides{}, patch, filler))
	assert.Equal(t, "right there", Whereabout(geometry.Sides{}, filler, filler))

	turned := geometry.FrontAt(geometry.V(0, -1, 0))
	assert.Equal(t, "60 mm to the rear, 180 mm to the right, 120 mm down", Whereabout(turned, filler, patch))
}

// Every view must be right-handed with the viewer inside, or its picture is mirrored.
func TestViewsAreNotMirrored(t *testing.T) {
	turned := geometry.FrontAt(geometry.V(0, -1, 0))
	for _, s := range []geometry.Sides{{}, turned} {
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
