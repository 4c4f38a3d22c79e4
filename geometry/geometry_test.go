package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestAttitudeFollowsTheStatedSigns(t *testing.T) {
	front, left := Vec{1, 0, 0}, Vec{0, 1, 0}
	assert.Less(t, Attitude(0.1, 0).Apply(front).Z, 0.0, "pitch > 0 lowers the front")
	assert.Greater(t, Attitude(0, 0.1).Apply(left).Z, 0.0, "roll > 0 lifts the left")
	both := Attitude(0.3, 0.2)
	twice := RotationAbout(Vec{1, 0, 0}, 0.2).Apply(RotationAbout(Vec{0, 1, 0}, 0.3).Apply(Vec{1, 2, 3}))
	assert.InDelta(t, 0, both.Apply(Vec{1, 2, 3}).Dist(twice), 1e-14)
	assert.InDelta(t, 0, both.Inverse().Apply(both.Apply(Vec{1, 2, 3})).Dist(Vec{1, 2, 3}), 1e-14)
}

func TestClosestPointOfTriangleInEachRegion(t *testing.T) {
	tri := Triangle{Vec{0, 0, 0}, Vec{1, 0, 0}, Vec{0, 1, 0}}
	for _, c := range []struct {
		name    string
		p, want Vec
	}{
		{"face", Vec{0.25, 0.25, 3}, Vec{0.25, 0.25, 0}},
		{"corner A", Vec{-1, -1, 1}, Vec{0, 0, 0}},
		{"corner B", Vec{2, -1, 0}, Vec{1, 0, 0}},
		{"corner C", Vec{-1, 2, 0}, Vec{0, 1, 0}},
		{"edge AB", Vec{0.5, -1, 0}, Vec{0.5, 0, 0}},
		{"edge AC", Vec{-1, 0.5, 0}, Vec{0, 0.5, 0}},
		{"edge BC", Vec{1, 1, 0}, Vec{0.5, 0.5, 0}},
	} {
		assert.InDelta(t, 0, tri.Closest(c.p).Dist(c.want), 1e-14, c.name)
	}
}

// A unit cube's volume and area are known; moving it changes neither.
func TestMeshVolumeAndAreaOfACube(t *testing.T) {
	cube := unitCube()
	assert.InDelta(t, 1, cube.Volume(), 1e-14)
	assert.InDelta(t, 6, cube.Area(), 1e-14)
	turn := Attitude(0.4, -0.7)
	moved := cube.Transformed(func(v Vec) Vec { return turn.Apply(v).Add(Vec{5, -3, 2}) })
	assert.InDelta(t, 1, moved.Volume(), 1e-12)
}

func TestPerpendicularIsRightHanded(t *testing.T) {
	for _, a := range []Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, -2}, {1, 2, 3}} {
		u, v := a.Perpendicular()
		assert.InDelta(t, 0, u.Cross(v).Dist(a.Unit()), 1e-14)
		assert.InDelta(t, 1, u.Norm(), 1e-14)
		assert.True(t, math.Abs(u.Dot(a)) < 1e-14)
	}
}

func unitCube() Mesh {
	m := Mesh{Faces: [][3]int32{
		{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5},
	}}
	for i := range 8 {
		m.Vertices = append(m.Vertices, Vec{float64(i & 1), float64(i >> 1 & 1), float64(i >> 2)})
	}
	return m
}
