package geometry

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// bruteSegment is the twin without a tree.
func bruteSegment(m *Mesh, a, b Vec) float64 {
	best := math.Inf(1)
	for i := range m.Faces {
		p, q := m.Triangle(i).Gap(a, b)
		best = min(best, p.Dist(q))
	}
	return best
}

// sphereMesh is a unit sphere of 2·rings·(rings−1)·2 facets about centre, outward.
func sphereMesh(rings int, radius float64, centre Vec) Mesh {
	m, around := Mesh{}, 2*rings
	m.Vertices = append(m.Vertices, centre.Add(Vec{0, 0, radius}), centre.Add(Vec{0, 0, -radius}))
	for i := 1; i < rings; i++ {
		st, ct := math.Sincos(math.Pi * float64(i) / float64(rings))
		for k := range around {
			sp, cp := math.Sincos(2 * math.Pi * float64(k) / float64(around))
			m.Vertices = append(m.Vertices, centre.Add(Vec{st * cp, st * sp, ct}.Scale(radius)))
		}
	}
	at := func(ring, k int) int32 { return int32(2 + (ring-1)*around + k%around) }
	for k := range around {
		m.Faces = append(m.Faces, [3]int32{0, at(1, k), at(1, k+1)}, [3]int32{1, at(rings-1, k+1), at(rings-1, k)})
		for i := 1; i < rings-1; i++ {
			m.Faces = append(m.Faces, [3]int32{at(i, k), at(i+1, k), at(i+1, k+1)}, [3]int32{at(i, k), at(i+1, k+1), at(i, k+1)})
		}
	}
	return m
}

// triangleSoup draws facets at random, some of them without area. A needle finer than a
// hundredth loses half its digits in barycentric coordinates: it is drawn without area.
func triangleSoup(t *rapid.T) Mesh {
	m := Mesh{}
	for range rapid.IntRange(1, 60).Draw(t, "facets") {
		a := drawVec(t, "corner")
		base := int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, a, a.AddScaled(drawVec(t, "edge"), 0.3), a.AddScaled(drawVec(t, "edge"), 0.3))
		tri := Triangle{m.Vertices[base], m.Vertices[base+1], m.Vertices[base+2]}
		if isThin(tri) || rapid.IntRange(0, 9).Draw(t, "degenerate") == 0 {
			m.Vertices[base+1] = m.Vertices[base]
		}
		m.Faces = append(m.Faces, [3]int32{base, base + 1, base + 2})
	}
	return m
}

func isThin(t Triangle) bool {
	longest := max(t.A.Dist(t.B), t.B.Dist(t.C), t.C.Dist(t.A))
	return t.Area() <= 0.005*longest*longest
}

// drawVec draws a point between −1 and 1 m on a raster of a micrometre, as files hold them.
func drawVec(t *rapid.T, name string) Vec {
	number := rapid.IntRange(-1000000, 1000000)
	return Vec{float64(number.Draw(t, name)), float64(number.Draw(t, name)), float64(number.Draw(t, name))}.Scale(1e-6)
}

func TestTreeAgreesWithEveryFacetTried(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := triangleSoup(t)
		tree := NewTree(&m)
		p, q := drawVec(t, "p").Scale(2), drawVec(t, "q").Scale(2)

		best := math.Inf(1)
		for i := range m.Faces {
			best = min(best, m.Triangle(i).closestTo(p).Dist(p))
		}
		point, face, dist := tree.Closest(p)
		require.InDelta(t, best, dist, 1e-14)
		require.InDelta(t, dist, point.Dist(p), 1e-14)
		require.InDelta(t, 0, m.Triangle(int(face)).closestTo(point).Dist(point), 1e-12, "the point is on the face named")

		onSegment, onMesh, face, dist := tree.Segment(p, q)
		require.InDelta(t, bruteSegment(&m, p, q), dist, 1e-14)
		require.InDelta(t, dist, onSegment.Dist(onMesh), 1e-14)
		require.InDelta(t, 0, m.Triangle(int(face)).closestTo(onMesh).Dist(onMesh), 1e-12)
		require.InDelta(t, 0, onSegment.Dist(p.Lerp(q, ClosestOnSegment(onSegment, p, q))), 1e-13)
	})
}

// No sampled pair of points of segment and facet may be nearer than the distance given,
// and a fine sample comes close to it: the distance is found without a second formula.
func TestTriangleSegmentGapAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tri := Triangle{drawVec(t, "A"), drawVec(t, "B"), drawVec(t, "C")}
		a, b := drawVec(t, "a"), drawVec(t, "b")
		if isThin(tri) {
			return
		}
		p, q := tri.Gap(a, b)
		const steps = 24
		least := math.Inf(1)
		for i := range steps + 1 {
			x := a.Lerp(b, float64(i)/steps)
			least = min(least, tri.Closest(x).Dist(x))
		}
		require.LessOrEqual(t, p.Dist(q), least+1e-9, "to a nanometre: near-parallel segments lose digits")
		// the distance to a convex set changes by no more than the step
		require.GreaterOrEqual(t, p.Dist(q), least-a.Dist(b)/(2*steps)-1e-9)
	})
}

// A needle is as far as its long edge, to within a millionth of its length.
func TestDistanceToNeedles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, p := drawVec(t, "A"), drawVec(t, "B"), drawVec(t, "p")
		width := math.Pow(10, rapid.Float64Range(-18, -6).Draw(t, "log width")) * a.Dist(b)
		c := a.Lerp(b, rapid.Float64Range(-0.2, 1.2).Draw(t, "along")).Add(Vec{width, 0, 0})
		edge := a.Lerp(b, ClosestOnSegment(p, a, b)).Dist(p)
		edge = min(edge, a.Lerp(c, ClosestOnSegment(p, a, c)).Dist(p))
		m := Mesh{Vertices: []Vec{a, b, c}, Faces: [][3]int32{{0, 1, 2}}}
		_, _, got := NewTree(&m).Closest(p)
		require.InDelta(t, edge, got, 2e-6*a.Dist(b)+1e-300)
	})
}

func TestClosestWithinKeepsToItsBound(t *testing.T) {
	ball := sphereMesh(20, 1, Vec{})
	tree := NewTree(&ball)
	_, face, dist := tree.ClosestWithin(Vec{3, 0, 0}, 1.9)
	assert.Equal(t, int32(-1), face)
	assert.Equal(t, 1.9, dist)
	_, face, dist = tree.ClosestWithin(Vec{3, 0, 0}, 2.1)
	assert.GreaterOrEqual(t, face, int32(0))
	assert.InDelta(t, 2, dist, 1e-12, "a corner of the ball lies at (1, 0, 0)")
}

func TestEmptyTreeFindsNothing(t *testing.T) {
	tree := NewTree(&Mesh{Vertices: []Vec{{math.NaN(), 0, 0}}, Faces: [][3]int32{{0, 0, 0}}})
	_, face, dist := tree.Closest(Vec{})
	assert.Equal(t, int32(-1), face)
	assert.True(t, math.IsInf(dist, 1))
	_, _, face, _ = tree.Segment(Vec{}, Vec{1, 0, 0})
	assert.Equal(t, int32(-1), face)
	assert.Empty(t, tree.Crossings(Vec{}, Vec{1, 0, 0}, nil))
	assert.True(t, tree.Bounds().IsEmpty())
}

// Rays aimed exactly at corners, along edges and within faces of a cube still count
// right: odd from inside, even from outside.
func TestCrossingsThroughEdgesAndCorners(t *testing.T) {
	cube := unitCube()
	tree := NewTree(&cube)
	steps := []float64{-2, -1, -0.5, 0, 0.5, 1, 2}
	inside, outside := Vec{0.5, 0.5, 0.5}, Vec{-1, 0, 0}
	for _, x := range steps {
		for _, y := range steps {
			for _, z := range steps {
				d := Vec{x, y, z}
				if d == (Vec{}) {
					continue
				}
				assert.Equal(t, 1, len(tree.Crossings(inside, d, nil))%2, "%v", d)
				assert.Equal(t, 0, len(tree.Crossings(outside, d, nil))%2, "%v", d)
			}
		}
	}
}

// Two routes to "inside": the parity of a ray and the distance from a ball's centre.
func TestRayParityAgreesWithTheBall(t *testing.T) {
	ball := sphereMesh(24, 1, Vec{0.1, 0.2, 0.3})
	tree := NewTree(&ball)
	rapid.Check(t, func(t *rapid.T) {
		p, d := drawVec(t, "p").Scale(1.5), drawVec(t, "d")
		r := p.Dist(Vec{0.1, 0.2, 0.3})
		if d.Norm() < 1e-3 || math.Abs(r-1) < 0.02 {
			return
		}
		found := tree.Crossings(p, d, nil)
		require.Equal(t, r < 1, len(found)%2 == 1)
		balance := 0
		for _, c := range found {
			x := p.AddScaled(d, c.At)
			require.InDelta(t, 0, ball.Triangle(int(c.Face)).Closest(x).Dist(x), 1e-9)
			if c.Out {
				balance++
			} else {
				balance--
			}
		}
		require.Equal(t, len(found)%2, balance, "in and out take turns")
	})
}

func TestQueriesAllocateNothing(t *testing.T) {
	ball := sphereMesh(30, 1, Vec{})
	tree := NewTree(&ball)
	winding := NewWinding(tree)
	found := make([]Crossing, 0, 64)
	assert.Zero(t, testing.AllocsPerRun(10, func() {
		tree.Closest(Vec{0.3, 0.2, 0.1})
		tree.Segment(Vec{0.3, 0.2, 0.1}, Vec{0.3, 0.2, 0.5})
		found = tree.Crossings(Vec{0.3, 0.2, 0.1}, Vec{1, 2, 3}, found[:0])
		winding.At(Vec{0.3, 0.2, 0.1})
	}))
}

func BenchmarkNewTree(b *testing.B) {
	for _, c := range []struct {
		name  string
		rings int
	}{{"76k", 139}, {"1M", 501}} {
		ball := sphereMesh(c.rings, 0.2, Vec{})
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				NewTree(&ball)
			}
			b.ReportMetric(float64(len(ball.Faces)), "facets")
		})
	}
}

func BenchmarkQueries(b *testing.B) {
	ball := sphereMesh(139, 0.2, Vec{})
	tree := NewTree(&ball)
	winding := NewWinding(tree)
	random := rand.New(rand.NewPCG(1, 2))
	points := make([]Vec, 1024)
	for i := range points {
		points[i] = Vec{random.Float64() - 0.5, random.Float64() - 0.5, random.Float64() - 0.5}.Scale(0.3)
	}
	at := func(i int) Vec { return points[i%len(points)] }
	b.Run("closest", func(b *testing.B) {
		for i := range b.N {
			tree.Closest(at(i))
		}
	})
	b.Run("segment", func(b *testing.B) {
		for i := range b.N {
			tree.Segment(at(i), at(i).Add(Vec{0, 0, 0.1}))
		}
	})
	b.Run("winding", func(b *testing.B) {
		for i := range b.N {
			winding.At(at(i))
		}
	})
	rod := Rod{Path: Straight(Vec{0.02, 0.01, -0.12}, Vec{0.05, 0.02, 0.15}), Radius: 0.005, Bare: []Span{{0, 0.2}}}
	b.Run("clearance", func(b *testing.B) {
		for range b.N {
			BareClearance(&rod, tree, nil)
		}
	})
}
