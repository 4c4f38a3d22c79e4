package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Two boxes, some of them thin as a hair or without thickness: their gap is known by
// subtraction.
func TestConvexGapOfThinBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		box := func(name string) Box {
			var b Box
			thin := rapid.IntRange(0, 3).Draw(t, name+" thin along")
			for axis, side := range []*float64{&b.Min.X, &b.Min.Y, &b.Min.Z} {
				size := rapid.Float64Range(0.001, 0.3).Draw(t, name+" size")
				if axis == thin {
					size = rapid.SampledFrom([]float64{0, 1e-9, 7e-9, 3e-8}).Draw(t, name+" thickness")
				}
				*side = rapid.Float64Range(-0.3, 0.3).Draw(t, name+" from")
				*[]*float64{&b.Max.X, &b.Max.Y, &b.Max.Z}[axis] = *side + size
			}
			return b
		}
		a, b := box("a"), box("b")
		apart := func(lowA, highA, lowB, highB float64) float64 { return math.Max(0, math.Max(lowB-highA, lowA-highB)) }
		want := V(apart(a.Min.X, a.Max.X, b.Min.X, b.Max.X), apart(a.Min.Y, a.Max.Y, b.Min.Y, b.Max.Y), apart(a.Min.Z, a.Max.Z, b.Min.Z, b.Max.Z)).Norm()
		_, _, got, least := convexGap(&a, &b, math.Inf(1))
		require.InDelta(t, want, got, 1e-7) // thin boxes leave fewer digits than the 1e-9 m asked for
		require.LessOrEqual(t, least, got+1e-12)
	})
}

// A rod that hangs beside boxes thin as a hair, as flat wall has in a tree.
func TestConvexGapToThinWalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius, low := rapid.Float64Range(0.002, 0.010).Draw(t, "radius"), rapid.Float64Range(0.002, 0.060).Draw(t, "height of the tip")
		rod := Rod{Radius: radius, Path: Straight(V(0, 0, low), V(0, 0, 0.2)), Bare: []Span{{From: 0, To: 0.03}}}
		hold := Hold{At: V(0, 0, 0.15), Along: V(0, 0, 1), Normal: V(0, 0, 1), S: 0.15 - low}
		thick := rapid.SampledFrom([]float64{0, 1e-9, 7e-9, 3e-8}).Draw(t, "thickness")
		wide := rapid.Float64Range(0.01, 0.2).Draw(t, "width")
		floor := Box{V(-wide, -wide, -thick), V(wide, wide, 0)}
		for _, x := range rod.solids(rod.Bare, rod.Radius, true) {
			w := sweepOf(&x, &rod, hold, Play{})
			_, _, got, _ := convexGap(w, &floor, math.Inf(1))
			require.GreaterOrEqual(t, got, low-1e-8)
		}
	})
}
