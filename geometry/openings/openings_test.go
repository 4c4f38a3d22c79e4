package openings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/shape"
	"evenwall/geometry/stlfile"
)

func reference(t testing.TB, name string) geometry.Mesh {
	m, _, err := stlfile.Read("../../testdata/stl/"+name, stlfile.Millimetre)
	require.NoError(t, err)
	return m
}

// The mesher drew the saddle's filler, 60 mm at [-60, 12, 190], into the flat roof with
// 40 corners (testdata/stl/README.md). Nothing else there is round.
func TestFindsTheSaddlesFiller(t *testing.T) {
	m := reference(t, "../cases/saddle-tilted/tank.stl")
	rings := Find(&m)
	require.Len(t, rings, 1)
	r := rings[0]
	assert.Equal(t, Imprint, r.Kind)
	assert.InDelta(t, 0, r.Centre.Dist(geometry.V(-0.06, 0.012, 0.19)), 1e-6)
	assert.InDelta(t, 0.06, r.Diameter, 1e-6)
	assert.InDelta(t, 0, r.Axis.Dist(geometry.V(0, 0, 1)), 1e-6)
	assert.Equal(t, 40, r.Points)
}

// Fillers of the drum and the box are not in their meshes: nothing must be found.
func TestFindsNothingWhereNothingIs(t *testing.T) {
	for _, name := range []string{"drum.stl", "box.stl"} {
		m := reference(t, name)
		assert.Empty(t, Find(&m), name)
	}
	for name, s := range map[string]shape.Shape{
		"box":    shape.Box{Length: 0.4, Width: 0.25, Height: 0.2, Radius: 0.03},
		"drum":   shape.Drum{Diameter: 0.3, Length: 0.3, Head: shape.Head{Kind: shape.Dished}},
		"barrel": shape.Drum{Axis: shape.Upright, Diameter: 0.3, Length: 0.3},
	} {
		m := s.Mesh(0.004)
		assert.Empty(t, Find(&m), name)
	}
}

func TestFindsTheHoleInASheet(t *testing.T) {
	m := reference(t, "baffle.stl")
	rings := Find(&m)
	require.Len(t, rings, 1)
	assert.Equal(t, Hole, rings[0].Kind)
	assert.InDelta(t, 0, rings[0].Centre.Dist(geometry.V(0.22, 0.08, 0.13)), 1e-5)
	assert.InDelta(t, 0.04, rings[0].Diameter, 1e-5)
}

// A can of 50 mm has two lids, each facing out.
func TestFindsTheEndsOfANeck(t *testing.T) {
	neck := shape.Drum{Axis: shape.Upright, Diameter: 0.05, Length: 0.1}.Mesh(0.004)
	rings := Find(&neck)
	require.Len(t, rings, 2)
	for _, r := range rings {
		assert.Equal(t, Lid, r.Kind)
		assert.InDelta(t, 0.05, r.Diameter, 1e-9)
		assert.InDelta(t, math.Copysign(1, r.Centre.Z-0.05), r.Axis.Z, 1e-9)
	}
	inverted := neck
	inverted.Faces = nil
	for _, f := range neck.Faces {
		inverted.Faces = append(inverted.Faces, [3]int32{f[1], f[0], f[2]})
	}
	assert.Equal(t, len(rings), len(Find(&inverted)))
	for i, r := range Find(&inverted) {
		assert.InDelta(t, 0, r.Axis.Dist(rings[i].Axis), 1e-9, "turned back")
	}
}

// ragged takes away the facets whose middle lies in a ball: a filler cut open, its edge
// as rough as the facets.
func ragged(m geometry.Mesh, centre geometry.Vec, diameter float64) geometry.Mesh {
	var kept [][3]int32
	for i, f := range m.Faces {
		if m.Triangle(i).Centroid().Dist(centre) > diameter/2 {
			kept = append(kept, f)
		}
	}
	return geometry.Mesh{Vertices: m.Vertices, Faces: kept}
}

func TestFindsAFillerCutOpenWithARaggedEdge(t *testing.T) {
	turn := geometry.Attitude(0.3, -0.2)
	for _, c := range []struct {
		name         string
		file         string
		centre, axis geometry.Vec
	}{
		{"flat roof", "box.stl", geometry.V(0.1, 0.14, 0.2), geometry.V(0, 0, 1)},
		{"curved wall", "drum.stl", geometry.V(0.08, 0.02, 0.29866), geometry.V(0, 0.13333, 0.99107)},
		{"under the floor", "box.stl", geometry.V(0.2, 0.1, 0), geometry.V(0, 0, -1)},
	} {
		m := ragged(reference(t, c.file), c.centre, 0.06)
		m = m.Transformed(turn.Apply)
		rings := Find(&m)
		require.Len(t, rings, 1, c.name)
		r := rings[0]
		assert.Equal(t, Hole, r.Kind)
		// Facets are 4 to 5 mm long: the edge is as rough, the middle a good deal better.
		assert.Less(t, r.Centre.Dist(turn.Apply(c.centre)), 0.003, c.name)
		assert.InDelta(t, 0.06, r.Diameter, 0.005, c.name)
		assert.Greater(t, r.Axis.Dot(turn.Apply(c.axis).Unit()), 0.99, c.name)
	}
}

// Lost facets leave small angular holes, which are no openings; nor is a square hatch.
func TestLostFacetsAndHatchesAreNoOpenings(t *testing.T) {
	m := reference(t, "drum.stl")
	var kept [][3]int32
	for i, f := range m.Faces {
		if i%17 != 3 {
			kept = append(kept, f)
		}
	}
	m.Faces = kept
	assert.Empty(t, Find(&m))

	hatch := shape.Stack{Sections: []shape.Section{{Width: 0.1, Height: 0.1}, {At: 0.02, Width: 0.1, Height: 0.1}}}.Mesh(0.004)
	assert.Empty(t, Find(&hatch))
}

// A flat head meshed in rings has circles at every radius and none of them is a filler.
func TestRingsOfAPolarMeshAreNoOpenings(t *testing.T) {
	const n = 48
	m := geometry.Mesh{Vertices: []geometry.Vec{{}}}
	for ring := 1; ring <= 8; ring++ {
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / n)
			r := 0.02 * float64(ring)
			m.Vertices = append(m.Vertices, geometry.V(r*c, r*s, 0))
			a, b := int32(1+(ring-1)*n+i), int32(1+(ring-1)*n+(i+1)%n)
			if ring == 1 {
				m.Faces = append(m.Faces, [3]int32{0, a, b})
				continue
			}
			m.Faces = append(m.Faces, [3]int32{a - n, a, b}, [3]int32{a - n, b, b - n})
		}
	}
	assert.Empty(t, Find(&m), "and the rim is wider than 200 mm")
}

func BenchmarkFindSaddle(b *testing.B) {
	m := reference(b, "../cases/saddle-tilted/tank.stl")
	for b.Loop() {
		Find(&m)
	}
}
