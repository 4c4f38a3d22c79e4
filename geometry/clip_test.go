package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestTriangleBelowKeepsAreaAndWinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tri := Triangle{drawVec(t, "A"), drawVec(t, "B"), drawVec(t, "C")}
		normal := drawVec(t, "normal")
		if normal.Norm() < 1e-3 {
			return
		}
		plane := PlaneThrough(drawVec(t, "on"), normal)
		sum := Vec{}
		for _, p := range []Plane{plane, plane.Flipped()} {
			parts, n := tri.Below(p)
			for _, part := range parts[:n] {
				sum = sum.Add(part.AreaVector())
				for _, v := range []Vec{part.A, part.B, part.C} {
					require.LessOrEqual(t, p.Height(v), 1e-13)
				}
			}
		}
		if tri.Area() > 0 {
			require.InDelta(t, 0, sum.Dist(tri.AreaVector()), 1e-13)
		}
	})
}

// Half a unit cube, cut through its middle: the four walls halve, floor stays, lid goes.
func TestMeshBelowOfACube(t *testing.T) {
	cube := unitCube()
	low, source := cube.Below(Plane{Vec{0, 0, 1}, 0.5}, Slack{})
	assert.InDelta(t, 1+4*0.5, low.Area(), 1e-14)
	assert.Len(t, source, len(low.Faces))
	assert.Len(t, low.Vertices, 4+4+4, "four corners, four upright edges and four diagonals cut once each")
	whole, _ := cube.Below(Plane{Vec{0, 0, 1}, 1 - 1e-12}, Slack{Corner: 1e-9})
	assert.InDelta(t, 6, whole.Area(), 1e-14, "a lid within the slack of the level is below")
	whole, _ = cube.Below(Plane{Vec{0, 0, 1}, 1 - 1e-4}, Slack{Facet: 2e-4})
	assert.InDelta(t, 6-4e-4, whole.Area(), 1e-14, "the lid is below, the walls are cut")
}

// A round hole in a plate of two facets: the areas are those of the circle.
func TestDiscCutsACircleOutOfAPlate(t *testing.T) {
	plate := Mesh{
		Vertices: []Vec{{-1, -1, 0}, {1, -1, 0}, {1, 1, 0}, {-1, 1, 0}},
		Faces:    [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
	turn := RotationAbout(Vec{1, 2, 3}, 0.8)
	plate = plate.Transformed(turn.Apply)
	disc := Disc{turn.Apply(Vec{0.1, -0.2, 0.01}), turn.Apply(Vec{0, 0, 3}), 0.5, 0.1}
	outside, inside, fromOutside, fromInside := disc.Cut(&plate)
	assert.InDelta(t, math.Pi*0.25, inside.Area(), 1e-12)
	assert.InDelta(t, 4-math.Pi*0.25, outside.Area(), 1e-12)
	assert.Len(t, fromOutside, len(outside.Faces))
	assert.Len(t, fromInside, len(inside.Faces))
	for i := range inside.Faces {
		assert.Greater(t, inside.Triangle(i).Normal().Dot(turn.Apply(Vec{0, 0, 1})), 0.99, "winding kept")
	}
}

// A tube of the disc's own radius is wall, a plug a little thinner is opening, and what
// is farther from the plane than the depth is not.
func TestDiscLeavesARimThatIsAlreadyThere(t *testing.T) {
	tube := tubeMesh(0.5, 1, 64)
	outside, inside, _, _ := Disc{Vec{}, Vec{0, 0, 1}, 0.5, 0.25}.Cut(&tube)
	assert.Len(t, outside.Faces, len(tube.Faces))
	assert.Empty(t, inside.Faces)

	outside, inside, _, _ = Disc{Vec{}, Vec{0, 0, 1}, 0.6, 0.25}.Cut(&tube)
	assert.InDelta(t, tube.Area()/4, inside.Area(), 1e-12, "a tube 2 long, cut at 0.25 to either side")
	assert.InDelta(t, tube.Area()*3/4, outside.Area(), 1e-12)
}

func TestDiscCutOfARoughSurfaceLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := triangleSoup(t)
		axis := drawVec(t, "axis")
		if axis.Norm() < 0.1 {
			return
		}
		disc := Disc{drawVec(t, "centre"), axis, rapid.Float64Range(0.05, 1).Draw(t, "radius"), 0.2}
		outside, inside, _, _ := disc.Cut(&m)
		require.InDelta(t, m.Area(), outside.Area()+inside.Area(), 1e-11)
		for _, v := range inside.Vertices {
			q := v.Sub(disc.Centre)
			z := q.Dot(axis.Unit())
			require.LessOrEqual(t, math.Abs(z), disc.Depth+0.006*disc.Radius)
			require.LessOrEqual(t, q.AddScaled(axis.Unit(), -z).Norm(), 1.006*disc.Radius)
		}
	})
}

// tubeMesh is an open tube about z from −half to half.
func tubeMesh(radius, half float64, sides int) Mesh {
	m := Mesh{}
	for i := range sides {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
		m.Vertices = append(m.Vertices, Vec{radius * c, radius * s, -half}, Vec{radius * c, radius * s, half})
		a, b := int32(2*i), int32(2*((i+1)%sides))
		m.Faces = append(m.Faces, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1})
	}
	return m
}
