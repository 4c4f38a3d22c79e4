package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// A box of 200 x 100 x 100 mm of 10 mm cubes with two low corners: the places, areas and
// figures follow from counting its facets.
func TestLeastReachedPatchesOfABox(t *testing.T) {
	m := grid{nx: 20, ny: 10, nz: 10, size: 0.01}.mesh()
	s := Surface{Mesh: m, Value: make([]float64, len(m.Faces))}
	for i := range m.Faces {
		c := m.Triangle(i).Centroid()
		s.Value[i] = 5
		if c.X > 0.199 && c.Y < 0.03 && c.Z < 0.04 { // 3 x 4 squares of the front
			s.Value[i] = 0.2
		}
		if c.Z > 0.099 && c.X < 0.02 && c.Y > 0.08 { // 2 x 2 squares of the top
			s.Value[i] = 0.4
		}
	}
	patches := LeastReached(s, PatchSettings{Below: 1, From: geometry.V(0.1, 0.05, 0.1)})
	require.Len(t, patches, 2)
	assert.InDelta(t, 12e-4, patches[0].Area, 1e-12)
	assert.InDelta(t, 4e-4, patches[1].Area, 1e-12)
	assert.Equal(t, []float64{0.2, 0.4}, []float64{patches[0].Least, patches[1].Least})
	assert.InDelta(t, 0.2, patches[0].Mean, 1e-12)
	assert.Equal(t, []int{1, 2}, []int{patches[0].Number, patches[1].Number})
	assert.Len(t, patches[0].Faces, 24)
	// The patch's middle is 100 mm before, 35 mm right of and 80 mm below the filler; the
	// facet named is at most 10 mm off in each direction.
	near := patches[0].Point.Sub(geometry.V(0.2, 0.015, 0.02))
	assert.Less(t, near.Norm(), 0.01)
	assert.Contains(t, patches[0].Words, "100 mm to the front")
	assert.Contains(t, patches[1].Words, "to the rear")
	assert.Len(t, LeastReached(s, PatchSettings{Below: 1, Most: 1}), 1)
	assert.Len(t, LeastReached(s, PatchSettings{Below: 1, Smallest: 5e-4}), 1)
}

func TestWithoutLowWallTheLeastTwoPercentAreNamed(t *testing.T) {
	m := grid{nx: 10, ny: 10, nz: 10, size: 0.01}.mesh()
	s := Surface{Mesh: m, Value: make([]float64, len(m.Faces))}
	for i := range m.Faces {
		s.Value[i] = 10 + m.Triangle(i).Centroid().Dist(geometry.V(0, 0, 0))
	}
	patches := LeastReached(s, PatchSettings{Below: 1})
	require.NotEmpty(t, patches)
	area := 0.0
	for _, p := range patches {
		area += p.Area
	}
	// Two percent by area, and the facets that tie with the last one: six at most, by the
	// box's symmetry about the corner's diagonal.
	assert.GreaterOrEqual(t, area, 0.02*m.Area()*(1-1e-9))
	assert.LessOrEqual(t, area, 0.02*m.Area()+6*0.5e-4)
}

func TestTheTwoSidesOfASheetAreTwoPatches(t *testing.T) {
	s := sprayer(0.01)
	for i := range s.Surface.Value {
		s.Surface.Value[i] = 5
		if s.Surface.Sheet[i] {
			s.Surface.Value[i] = 0.1
		}
	}
	patches := LeastReached(s.Surface, PatchSettings{Below: 1})
	require.Len(t, patches, 2)
	assert.InDelta(t, 0.2*0.46, patches[0].Area, 1e-9, "200 x 460 mm a side")
	assert.InDelta(t, 0.2*0.46, patches[1].Area, 1e-9)
}

func TestOnlyWettedWallWithAFigureCounts(t *testing.T) {
	s := plateOf(0.1, 0.1, math.NaN(), 3)
	s.State = []State{Dry, Wetted, Wetted, Wetted}
	patches := LeastReached(s, PatchSettings{Below: 1})
	require.Len(t, patches, 1)
	assert.Equal(t, []int{1}, patches[0].Faces)
	assert.Empty(t, LeastReached(Surface{}, PatchSettings{Below: 1}))
}
