package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// A box of 200 x 100 x 100 mm of 10 mm cubes, 5 A/m² all over by both layouts but for 3 x 4
// squares of the front, ten times as much by the first, and 2 x 2 of the top, four times as
// much by the second: areas and figures by counting facets.
func TestPiecesThatDifferMostInABox(t *testing.T) {
	m := grid{nx: 20, ny: 10, nz: 10, size: 0.01}.mesh()
	n := len(m.Faces)
	a, b := make([]float64, n), make([]float64, n)
	for i := range n {
		a[i], b[i] = 5, 5
		c := m.Triangle(i).Centroid()
		if c.X > 0.199 && c.Y < 0.03 && c.Z < 0.04 {
			a[i] = 50
		}
		if c.Z > 0.099 && c.X < 0.02 && c.Y > 0.08 {
			b[i] = 20
		}
	}
	s := Surface{Mesh: m, Value: a}
	found := MostDifferent(s, [][]float64{a, b}, DifferSettings{Least: 1, Ceiling: 100, From: geometry.V(0.1, 0.05, 0.1)})
	require.Len(t, found, 2)
	assert.Equal(t, "front", found[0].Side)
	assert.InDelta(t, 12e-4, found[0].Area, 1e-12)
	assert.Equal(t, []int{0, 1}, []int{found[0].Most, found[0].Less})
	assert.InDeltaSlice(t, []float64{50, 5}, found[0].Each, 1e-9)
	assert.Contains(t, found[0].Words, "100 mm to the front")
	assert.Equal(t, "top", found[1].Side)
	assert.InDelta(t, 4e-4, found[1].Area, 1e-12)
	assert.Equal(t, []int{1, 0}, []int{found[1].Most, found[1].Less})
	assert.InDeltaSlice(t, []float64{5, 20}, found[1].Each, 1e-9)
	assert.Equal(t, []int{1, 2}, []int{found[0].Number, found[1].Number})
}

// Current below the least and above the ceiling changes nothing, and does not count; nor does
// wall without a figure.
func TestOnlyWhatChangesTheWallDiffers(t *testing.T) {
	m := grid{nx: 4, ny: 4, nz: 4, size: 0.01}.mesh()
	n := len(m.Faces)
	a, b := make([]float64, n), make([]float64, n)
	for i := range n {
		a[i], b[i] = 0.01, 0.9
		if m.Triangle(i).Centroid().X > 0.039 {
			a[i], b[i] = 60, 600
		}
	}
	a[0], b[0] = math.NaN(), math.NaN()
	set := DifferSettings{Least: 1, Ceiling: 50}
	assert.Empty(t, MostDifferent(Surface{Mesh: m, Value: a}, [][]float64{a, b}, set))
	assert.Empty(t, MostDifferent(Surface{Mesh: m, Value: a}, [][]float64{a, a}, set))
}

// A piece that goes round an edge names both of its sides.
func TestAPieceRoundAnEdgeNamesBothSides(t *testing.T) {
	m := grid{nx: 6, ny: 6, nz: 6, size: 0.01}.mesh()
	a, b := make([]float64, len(m.Faces)), make([]float64, len(m.Faces))
	for i := range a {
		a[i], b[i] = 2, 2
		if c := m.Triangle(i).Centroid(); c.X > 0.059 || (c.X < 0.001) || c.Z < 0.001 {
			b[i] = 20
		}
	}
	found := MostDifferent(Surface{Mesh: m, Value: a}, [][]float64{a, b}, DifferSettings{Least: 1})
	require.Len(t, found, 1)
	assert.Equal(t, "front, rear and bottom", found[0].Side)
}
