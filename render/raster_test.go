package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"evenwall/geometry"
)

// Two facets that share an edge must leave no gap and paint no pixel twice, wherever the
// edge runs.
func TestNeighboursShareEveryPixelOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(0, 20)
		var p [4]point
		for i := range p {
			p[i] = point{at.Draw(t, "x"), at.Draw(t, "y")}
		}
		// p[0] and p[1] are the shared edge, p[2] and p[3] lie on opposite sides of it.
		if turnOf(p[0], p[1], p[2])*turnOf(p[0], p[1], p[3]) >= 0 {
			t.Skip("both on one side")
		}
		b := newBuffer(20, 20)
		b.covered = make([]int32, 2)
		for f := range 2 {
			b.triangle(int32(f), [3]corner{{x: p[0].x, y: p[0].y}, {x: p[1].x, y: p[1].y}, {x: p[2+f].x, y: p[2+f].y}})
		}
		painted := 0
		for i, f := range b.face {
			q := point{float64(i%20) + 0.5, float64(i/20) + 0.5}
			if f != nothing {
				painted++
			}
			if within(q, p[0], p[1], p[2]) || within(q, p[0], p[1], p[3]) {
				assert.NotEqual(t, nothing, f, "pixel at %v", q)
			}
		}
		assert.Equal(t, painted, int(b.covered[0]+b.covered[1]))
	})
}

// within reports whether q lies in the triangle, clear of its edges by rounding.
func within(q, a, b, c point) bool {
	const rounding = 1e-9
	s, u, v := turnOf(a, b, q), turnOf(b, c, q), turnOf(c, a, q)
	return (s > rounding && u > rounding && v > rounding) || (s < -rounding && u < -rounding && v < -rounding)
}

func TestTheFartherFaceStaysInSight(t *testing.T) {
	far := [3]corner{{0, 0, 2, 0}, {8, 0, 2, 0}, {0, 8, 2, 0}}
	near := [3]corner{{0, 0, 1, 0}, {8, 0, 1, 0}, {0, 8, 1, 0}}
	for _, order := range [][]int32{{0, 1}, {1, 0}} {
		b := newBuffer(8, 8)
		for _, f := range order {
			b.triangle(f, [][3]corner{far, near}[f])
		}
		assert.EqualValues(t, 0, b.face[9])
		assert.InDelta(t, 2, b.depth[9], 1e-6)
	}
}

func TestDepthAndValueAreLinearAcrossAFace(t *testing.T) {
	b := newBuffer(10, 10)
	linear := func(x, y float64) corner { return corner{x, y, 3 + 0.1*x - 0.2*y, 0.5*x + y} }
	b.triangle(0, [3]corner{linear(0, 0), linear(10, 1), linear(2, 9)})
	for i, f := range b.face {
		if f == 0 {
			want := linear(float64(i%10)+0.5, float64(i/10)+0.5)
			assert.InDelta(t, want.depth, b.depth[i], 1e-5)
			assert.InDelta(t, want.value, b.value[i], 1e-5)
		}
	}
}

// All of the wall must be in sight: tunnel, notch and both sides of a baffle.
func TestArrangementShowsAllOfTheWall(t *testing.T) {
	for name, c := range map[string]struct {
		scene  Scene
		panels int
	}{
		"box with a tunnel: six sides and the tunnel's two": {pumpHouse(0.01), 8},
		"box with a baffle: six sides and the baffle's two": {sprayer(0.02), 8},
	} {
		a := arrange(&c.scene.Surface, geometry.Sides{})
		assert.Equal(t, 6, a.sides, name)
		assert.Len(t, a.panels, c.panels, name)
		assert.InDelta(t, 1, a.shown, 1e-9, name)
	}
}

// A ball is convex: six views show all of it, and no further panel is wanted.
func TestABallNeedsNoFurtherPanel(t *testing.T) {
	s := Surface{Mesh: ball(0.1, 40)}
	a := arrange(&s, geometry.Sides{})
	assert.Len(t, a.panels, 6)
	assert.Greater(t, a.shown, 0.995)
}

// A dumb-bell of three chambers side by side hides two walls behind one another.
func TestThingsBehindOneAnotherComeOneByOne(t *testing.T) {
	g := grid{nx: 15, ny: 6, nz: 6, size: 0.01}
	g.inside = func(x, _, z int) bool { return z < 2 || x/3%2 == 0 }
	s := Surface{Mesh: g.mesh()}
	a := arrange(&s, geometry.Sides{})
	assert.InDelta(t, 1, a.shown, 1e-9)
	assert.Len(t, a.panels, 6+2+2, "two inner walls each way")
}

// ball returns a sphere about the origin, its normals outward.
func ball(radius float64, rings int) geometry.Mesh {
	var m geometry.Mesh
	at := func(i, k int) geometry.Vec {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(rings))
		east, north := math.Sincos(math.Pi * float64(k) / float64(rings))
		return geometry.V(radius*sin*north, radius*sin*east, radius*cos)
	}
	across := 2 * rings
	index := func(i, k int) int32 { // the poles are one corner each
		if i == 0 || i == rings {
			k = 0
		}
		return int32(i*across + k%across)
	}
	for i := range rings + 1 {
		for k := range across {
			m.Vertices = append(m.Vertices, at(i, k))
		}
	}
	for i := range rings {
		for k := range across {
			a, b, c, d := index(i, k), index(i, k+1), index(i+1, k), index(i+1, k+1)
			if i > 0 {
				m.Faces = append(m.Faces, [3]int32{a, c, b})
			}
			if i < rings-1 {
				m.Faces = append(m.Faces, [3]int32{b, c, d})
			}
		}
	}
	return m
}
