package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// floorMesh is a plate of 2 m by 2 m at the height z.
func floorMesh(z float64) Mesh {
	return Mesh{
		Vertices: []Vec{{-1, -1, z}, {1, -1, z}, {1, 1, z}, {-1, 1, z}},
		Faces:    [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
}

func uprightRod() Rod {
	return Rod{Path: Straight(Vec{0, 0, 0.04}, Vec{0, 0, 0.2}), Radius: 0.005, Bare: []Span{{0, 0.16}}}
}

// Worked by hand: a rod of 10 mm with its tip 40 mm above a floor.
func TestClearanceOfATipAboveAFloor(t *testing.T) {
	floor := floorMesh(0)
	tree := NewTree(&floor)
	round, flat := uprightRod(), uprightRod()
	flat.Flat = true
	lean := 20 * math.Pi / 180
	about := RotationAbout(Vec{0, 1, 0}, lean)
	turned := func(r Rod) Rod {
		r.Path = Straight(r.Path[0], r.Path[0].Add(about.Apply(Vec{0, 0, 0.16})))
		return r
	}
	for _, c := range []struct {
		name string
		rod  Rod
		want float64
	}{
		{"round, upright", round, 0.040},
		{"flat, upright", flat, 0.040},
		{"round, leaning: the ball's centre is 5 mm up the axis", turned(round), 0.040 + 0.005*math.Cos(lean) - 0.005},
		{"flat, leaning: the disc's edge", turned(flat), 0.040 - 0.005*math.Sin(lean)},
	} {
		gap := BareClearance(&c.rod, tree, nil)
		assert.InDelta(t, c.want, gap.Distance, 1e-12, c.name)
		assert.InDelta(t, gap.Distance, gap.OnRod.Dist(gap.OnWall), 1e-12, c.name)
		assert.InDelta(t, 0, gap.OnWall.Z, 1e-12, c.name)
	}
}

// In a tube of radius 60 mm the gap is (60 mm − offset) cos(half a facet's angle) − rod
// radius: the foot of the axis on the facet beside the nearest corner line.
func TestClearanceInATube(t *testing.T) {
	tube := tubeMesh(0.06, 0.5, 720)
	tree := NewTree(&tube)
	rod := uprightRod()
	rod.Path = Straight(Vec{0.02, 0, -0.1}, Vec{0.02, 0, 0.2})
	rod.Bare = []Span{{0, 0.1}}
	rod.Sleeve = 0.01
	axis := (0.06 - 0.02) * math.Cos(math.Pi/720)
	assert.InDelta(t, axis-0.005, BareClearance(&rod, tree, nil).Distance, 1e-14)
	assert.InDelta(t, axis-0.010, OutsideClearance(&rod, tree, Span{0, 0.3}).Distance, 1e-14)
	assert.InDelta(t, axis-0.005, OutsideClearance(&rod, tree, Span{0, 0.09}).Distance, 1e-14, "metal only")
}

// A sleeve's bare end is cut flat: a shelf above it is measured from the edge of the metal.
func TestBareStretchEndsFlat(t *testing.T) {
	rod := uprightRod()
	rod.Path = Straight(Vec{}, Vec{0, 0, 0.3})
	rod.Bare = []Span{{0, 0.1}}
	shelf := Mesh{Vertices: []Vec{{0.008, -1, 0.14}, {1, -1, 0.14}, {1, 1, 0.14}, {0.008, 1, 0.14}}, Faces: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	gap := BareClearance(&rod, NewTree(&shelf), nil)
	assert.InDelta(t, math.Hypot(0.008-0.005, 0.04), gap.Distance, 1e-12)
	assert.InDelta(t, 0.1, gap.OnRod.Z, 1e-12)
}

func TestClearanceBelowTheLevel(t *testing.T) {
	shelf := floorMesh(0.30)
	tree := NewTree(&shelf)
	rod := uprightRod() // bare from z = 40 to 200 mm
	assert.InDelta(t, 0.10, BareClearance(&rod, tree, nil).Distance, 1e-12)
	level := Plane{Vec{0, 0, 1}, 0.12}
	assert.InDelta(t, 0.18, BareClearance(&rod, tree, &level).Distance, 1e-12, "metal above the level does not count")
	level.Offset = 0.03
	gap := BareClearance(&rod, tree, &level)
	assert.True(t, math.IsInf(gap.Distance, 1), "all dry")
	assert.Equal(t, int32(-1), gap.Face)
}

// Negative once the wall is cut: between 0 and −radius, −radius when the axis is.
func TestClearanceOfARodThroughTheWall(t *testing.T) {
	wall := floorMesh(0)
	tree := NewTree(&wall)
	through := uprightRod()
	through.Path = Straight(Vec{0, 0, -0.1}, Vec{0, 0, 0.1})
	assert.InDelta(t, -0.005, BareClearance(&through, tree, nil).Distance, 1e-12)
	lying := uprightRod()
	lying.Path = Straight(Vec{-0.1, 0, 0.003}, Vec{0.1, 0, 0.003})
	assert.InDelta(t, -0.002, BareClearance(&lying, tree, nil).Distance, 1e-12)
}

// A rod bent by a right angle: the leg beyond the bend is what comes nearest.
func TestClearanceOfABentRod(t *testing.T) {
	wall := floorMesh(0)
	rod := Rod{Path: []Vec{{0.1, 0, 0.05}, {0, 0, 0.05}, {0, 0, 0.2}}, Radius: 0.004, Bare: []Span{{0.05, 0.25}}}
	gap := BareClearance(&rod, NewTree(&wall), nil)
	assert.InDelta(t, 0.046, gap.Distance, 1e-12)
	rod.Bare = []Span{{0.104, 0.25}} // from 4 mm above the bend: flat there
	assert.InDelta(t, 0.054, BareClearance(&rod, NewTree(&wall), nil).Distance, 1e-12)
}

func TestRodGap(t *testing.T) {
	a, b := uprightRod(), uprightRod()
	b.Path = Straight(Vec{0.03, 0, 0.1}, Vec{0.03, 0, 0.3})
	b.Radius = 0.003
	gap := RodGap(&a, &b)
	assert.InDelta(t, 0.03-0.005-0.003, gap.Distance, 1e-12)
	assert.InDelta(t, gap.Distance, gap.OnRod.Dist(gap.OnWall), 1e-12)
	above := uprightRod()
	above.Path = Straight(Vec{0, 0, 0.26}, Vec{0, 0, 0.3})
	above.Bare = []Span{{0, 0.04}}
	assert.InDelta(t, 0.06-0.005, RodGap(&a, &above).Distance, 1e-12, "the flat end of the lower rod counts as rounded")
}

// sampledGap is a second route: points spread over the facet, each measured to the solid
// rod by formula.
func sampledGap(r *Rod, t Triangle, steps int) float64 {
	axis := r.Path[1].Sub(r.Path[0]).Unit()
	least := math.Inf(1)
	for i := range steps + 1 {
		for k := range steps + 1 - i {
			u, v := float64(i)/float64(steps), float64(k)/float64(steps)
			q := t.A.AddScaled(t.B.Sub(t.A), u).AddScaled(t.C.Sub(t.A), v).Sub(r.Path[0])
			along := q.Dot(axis)
			across := q.AddScaled(axis, -along).Norm()
			for _, s := range r.Bare {
				from := s.From
				if !r.Flat && from < r.Radius {
					from = r.Radius
					least = min(least, math.Hypot(along-r.Radius, across)-r.Radius)
				}
				beyond := max(0, from-along, along-s.To)
				least = min(least, math.Hypot(beyond, max(0, across-r.Radius)))
			}
		}
	}
	return least
}

func TestClearanceAgainstSampledFacets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tri := Triangle{drawVec(t, "A"), drawVec(t, "B"), drawVec(t, "C")}
		tip := drawVec(t, "tip")
		direction := drawVec(t, "direction")
		if direction.Norm() < 0.2 {
			return
		}
		rod := Rod{
			Path:   Straight(tip, tip.Add(direction)),
			Radius: rapid.Float64Range(0.02, 0.4).Draw(t, "radius"),
			Flat:   rapid.Bool().Draw(t, "flat"),
		}
		from := rapid.Float64Range(0, 0.5).Draw(t, "from") * direction.Norm()
		rod.Bare = []Span{{from, direction.Norm()}}
		if from < rod.Radius {
			rod.Bare[0].From = 0
		}
		m := Mesh{Vertices: []Vec{tri.A, tri.B, tri.C}, Faces: [][3]int32{{0, 1, 2}}}
		got := BareClearance(&rod, NewTree(&m), nil).Distance
		const steps = 40
		sampled := sampledGap(&rod, tri, steps)
		spacing := max(tri.A.Dist(tri.B), tri.B.Dist(tri.C), tri.C.Dist(tri.A)) / steps
		require.LessOrEqual(t, got, sampled+1e-9)
		if got > 0 {
			require.GreaterOrEqual(t, got, sampled-spacing-1e-12, "no facet point is farther than the spacing from a sample")
		} else {
			require.LessOrEqual(t, sampled, spacing+1e-12)
			require.GreaterOrEqual(t, got, -rod.Radius-1e-12)
		}
	})
}

// The tree leaves no facet out: all facets one by one give the same gap.
func TestClearanceAgreesWithEveryFacetTried(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := triangleSoup(t)
		rod := Rod{
			Path:   []Vec{drawVec(t, "tip"), drawVec(t, "bend"), drawVec(t, "top")},
			Radius: rapid.Float64Range(0.01, 0.1).Draw(t, "radius"),
			Flat:   rapid.Bool().Draw(t, "flat"),
		}
		if rod.Path[0].Dist(rod.Path[1]) < 0.1 || rod.Path[1].Dist(rod.Path[2]) < 0.1 {
			return
		}
		rod.Bare = MergeSpans([]Span{{0, 0.3}, {0.5, 2}}, rod.Length())
		least := math.Inf(1)
		for i := range m.Faces {
			one := Mesh{Vertices: m.Vertices, Faces: m.Faces[i : i+1]}
			least = min(least, BareClearance(&rod, NewTree(&one), nil).Distance)
		}
		require.InDelta(t, least, BareClearance(&rod, NewTree(&m), nil).Distance, 1e-12)
	})
}
