package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A right angle at 30 mm: the arc takes 30 mm of either leg and is a quarter of a circle.
func TestBentRod(t *testing.T) {
	path, err := Bent(V(0.1, 0, 0.05), V(0, 0, 0.05), V(0, 0, 0.25), 0.03)
	require.NoError(t, err)
	r := Rod{Path: path}
	arc := 0.03 * math.Pi / 2
	assert.InDelta(t, 0.1-0.03+arc+0.2-0.03, r.Length(), 1e-4, "chords of 7.5 degrees are shorter by 1 in 1400")
	for _, p := range path[1 : len(path)-1] {
		assert.InDelta(t, 0.03, p.Dist(V(0.03, 0, 0.08)), 1e-12)
	}
	assert.InDelta(t, math.Pi/2, r.Turning(), 1e-12)
	assert.False(t, r.IsStraight())
}

func TestBendsThatCannotBe(t *testing.T) {
	_, err := Bent(V(0.02, 0, 0.05), V(0, 0, 0.05), V(0, 0, 0.25), 0.03)
	assert.ErrorContains(t, err, "takes 30.0 mm of either leg, the shorter has 20.0 mm")
	_, err = Bent(V(0, 0, 0), V(0, 0, 0.05), V(0, 0, 0.25), 0.03)
	assert.ErrorContains(t, err, "turns the rod by 0.00 degrees")
}
