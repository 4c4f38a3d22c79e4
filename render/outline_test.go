package render

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
)

func girth(wall []stretch) float64 {
	sum := 0.0
	for _, s := range wall {
		sum += s.b.sub(s.a).norm()
	}
	return sum
}

// A box of 40 x 20 x 30 mm cut upright across: the outline is 2 (20 + 30) = 100 mm; cut
// along its corner diagonal it is 2 (sqrt(40² + 20²) + 30) mm.
func TestOutlineOfABoxHasItsGirth(t *testing.T) {
	m := grid{nx: 4, ny: 2, nz: 3, size: 0.01}.mesh()
	across := Cut{Origin: geometry.V(0.013, 0.01, 0.01), U: geometry.V(0, 1, 0), V: geometry.V(0, 0, 1)}
	assert.InDelta(t, 0.1, girth(across.outline(&m)), 1e-12)
	on := Cut{Origin: geometry.V(0.02, 0.01, 0.01), U: geometry.V(0, 1, 0), V: geometry.V(0, 0, 1)}
	assert.InDelta(t, 0.1, girth(on.outline(&m)), 1e-12, "in a plane of the corners")
	diagonal := Cut{Origin: geometry.V(0.02, 0.01, 0), U: geometry.V(2, 1, 0).Unit(), V: geometry.V(0, 0, 1)}
	assert.InDelta(t, 2*(math.Hypot(0.04, 0.02)+0.03), girth(diagonal.outline(&m)), 1e-12)
	beside := Cut{Origin: geometry.V(0.2, 0, 0), U: geometry.V(0, 1, 0), V: geometry.V(0, 0, 1)}
	assert.Empty(t, beside.outline(&m))
}

// A closed surface has a closed outline: every end is shared, and the parity of crossings
// gives its area. A ball of radius R cut at distance d leaves a circle of R² - d².
func TestOutlineOfABallIsAClosedCircle(t *testing.T) {
	const radius, off = 0.1, 0.03
	m := ball(radius, 60)
	for _, turn := range []float64{0, 0.4, 1.1} {
		r := geometry.Attitude(turn, 2*turn)
		c := Cut{Origin: r.Apply(geometry.V(off, 0, 0)), U: r.Apply(geometry.V(0, 1, 0)), V: r.Apply(geometry.V(0, 0, 1))}
		wall := c.outline(&m)
		ends := newJoints[point]()
		for _, s := range wall {
			if s.a != s.b {
				ends.join(s.a, s.b)
			}
			assert.Greater(t, s.outward.x*s.a.x+s.outward.y*s.a.y, 0.0, "outward is away from the middle")
		}
		require.Len(t, ends.ways(), 1)
		assert.Equal(t, ends.ways()[0][0], ends.ways()[0][len(ends.order)], "back to the start")
		// 60 rings leave facets 3 degrees long, flat by 1 - cos(1.5 degrees) = 0.03 %.
		want := math.Sqrt(radius*radius - off*off)
		for _, s := range wall {
			assert.InDelta(t, want, s.a.norm(), 0.0015*radius)
		}
		k := newMask(onPicture(wall, c.plate(rect{-radius, -radius, radius, radius}, rect{0, 0, 400, 400})), image.Rect(0, 0, 400, 400), 1)
		count := 0
		for _, in := range k.inside {
			if in {
				count++
			}
		}
		area := float64(count) / 400 / 400 * 4 * radius * radius
		assert.InDelta(t, math.Pi*want*want, area, 0.005*area)
	}
}

// An open top leaves the row through it with an even count all the same, and a hole in a
// side wall is decided by the columns.
func TestMaskHoldsWithAHoleInTheWall(t *testing.T) {
	square := []stretch{
		{a: point{10, 10}, b: point{10, 90}}, {a: point{10, 90}, b: point{90, 90}}, {a: point{90, 10}, b: point{10, 10}},
		{a: point{90, 90}, b: point{90, 60}}, {a: point{90, 40}, b: point{90, 10}},
	}
	m := newMask(square, image.Rect(0, 0, 100, 100), 1)
	assert.True(t, m.has(point{50.5, 50.5}))
	assert.True(t, m.has(point{50.5, 20.5}))
	assert.False(t, m.has(point{95.5, 50.5}))
	assert.False(t, m.has(point{50.5, 5.5}))
}

func TestCutHoldsTheRodAndTheOpening(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xy := rapid.Float64Range(-0.2, 0.2)
		tip := geometry.V(xy.Draw(t, "x"), xy.Draw(t, "y"), 0.02)
		top := geometry.V(xy.Draw(t, "X"), xy.Draw(t, "Y"), 0.3)
		r := geometry.Rod{Path: geometry.Straight(tip, top), Radius: 0.005}
		c := CutThrough(&r, Opening{Centre: top, Axis: geometry.V(0, 0, 1), Diameter: 0.06}, geometry.Sides{})
		require.NoError(t, c.check())
		if level(top.Sub(tip)).Norm() > 1e-3 { // below a millimetre of lean it counts as plumb
			assert.InDelta(t, 0, top.Sub(c.Origin).Dot(c.toward()), 1e-12)
		}
		assert.GreaterOrEqual(t, c.U.X, -1e-9, "front on the right, or square to it")
	})
	plumb := geometry.Rod{Path: geometry.Straight(geometry.V(0, 0, 0), geometry.V(0, 0, 0.2)), Radius: 0.005}
	c := CutThrough(&plumb, Opening{Centre: geometry.V(0, 0.02, 0.2)}, geometry.Sides{})
	assert.InDelta(t, 0, c.U.Dist(geometry.V(0, -1, 0)), 1e-12, "towards the opening; right of the front on the right")
	c = CutThrough(&plumb, Opening{Centre: geometry.V(0, 0, 0.2)}, geometry.Sides{})
	assert.InDelta(t, 0, c.U.Dist(geometry.V(1, 0, 0)), 1e-12, "plumb in the middle: along the tank")
}

func TestLinesAreClippedToTheFrame(t *testing.T) {
	frame := rect{0, 0, 10, 10}
	a, b, ok := clipLine(point{-5, 5}, point{15, 5}, frame)
	assert.True(t, ok)
	assert.Equal(t, [2]point{{0, 5}, {10, 5}}, [2]point{a, b})
	_, _, ok = clipLine(point{-5, 5}, point{5, 15.1}, frame)
	assert.False(t, ok)
	square := []point{{-5, -5}, {5, -5}, {5, 5}, {-5, 5}}
	assert.ElementsMatch(t, []point{{0, 0}, {5, 0}, {5, 5}, {0, 5}}, clip(square, frame))
}

// The hull's area of a long bar seen from the side is length times diameter plus half the
// tip's disc; seen along its axis it is the disc.
func TestRodOutlineFromTheSideAndAlong(t *testing.T) {
	const length, radius = 0.2, 0.01
	r := geometry.Rod{Path: geometry.Straight(geometry.V(0, 0, 0), geometry.V(0, 0, length)), Radius: radius,
		Bare: []geometry.Span{{From: 0, To: length}}}
	side := &plate{right: geometry.V(1, 0, 0), up: geometry.V(0, 0, 1), toward: geometry.V(0, 1, 0), scale: 1}
	above := &plate{right: geometry.V(1, 0, 0), up: geometry.V(0, 1, 0), toward: geometry.V(0, 0, -1), scale: 1}
	disc := math.Pi * radius * radius
	// Polygons of 48 corners hold 99.7 % of a disc.
	assert.InDelta(t, 2*radius*(length-radius)+disc/2, areaOf(rodPieces(&r, side)[0].hull), 0.01*disc)
	assert.InDelta(t, disc, areaOf(rodPieces(&r, above)[0].hull), 0.01*disc)
	r.Bare = []geometry.Span{{From: 0.01, To: 0.05}, {From: 0.1, To: 0.12}}
	bare := 0
	pieces := rodPieces(&r, side)
	for _, p := range pieces {
		if p.bare {
			bare++
		}
	}
	assert.Equal(t, [2]int{5, 2}, [2]int{len(pieces), bare}, "plastic, bare, plastic, bare, plastic")
}

// Round a bend the pieces' edges make one outline: from the side, two straight legs, the outer and the
// inner arc, and both ends, by hand.
func TestABentRodHasOneOutline(t *testing.T) {
	const radius, bend, leg = 5.0, 40.0, 100.0 // mm, and a millimetre is a pixel
	path, err := geometry.Bent(geometry.V(leg+bend, 0, 0), geometry.Vec{}, geometry.V(0, 0, leg+bend), bend)
	require.NoError(t, err)
	r := geometry.Rod{Radius: radius, Path: path, Flat: true, Bare: []geometry.Span{{From: 0, To: 1000}}}
	side := &plate{toward: geometry.V(0, 1, 0), right: geometry.V(1, 0, 0), up: geometry.V(0, 0, 1), scale: 1}
	shapes := shapesOf(rodPieces(&r, side), rect{-1000, -1000, 1000, 1000})
	require.Len(t, shapes, 1)
	assert.False(t, shapes[0].closed)
	length := 0.0
	for _, line := range shapes[0].edge {
		for i := 1; i < len(line); i++ {
			length += line[i].sub(line[i-1]).norm()
		}
	}
	want := 4*leg + math.Pi/2*((bend+radius)+(bend-radius)) + 2*2*radius
	assert.InDelta(t, want, length, 0.02*want)
}
