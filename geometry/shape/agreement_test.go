package shape

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

const deg = math.Pi / 180

// specimens are tanks of every kind and turn of phrase, 10 to 40 L. All sizes are
// invented.
func specimens() map[string]Shape {
	saddle := []Section{
		{At: -0.20, Width: 0.14, Height: 0.19, Roundness: 0.3, Notch: Notch{0.08, 0.07}},
		{At: -0.10, Width: 0.26, Height: 0.19, Roundness: 0.4, Notch: Notch{0.09, 0.08}},
		{At: 0.10, Width: 0.24, Height: 0.18, Bottom: 0.005, Roundness: 0.4, Notch: Notch{0.09, 0.08}},
		{At: 0.21, Width: 0.15, Height: 0.13, Bottom: 0.01, Corner: 0.03},
	}
	return map[string]Shape{
		"sharp box":      Box{Length: 0.4, Width: 0.25, Height: 0.2},
		"rounded box":    Box{Length: 0.4, Width: 0.25, Height: 0.2, Radius: 0.03},
		"box, one round": Box{Length: 0.4, Width: 0.25, Height: 0.2, Radius: 0.1},
		"ball":           Box{Length: 0.3, Width: 0.3, Height: 0.3, Radius: 0.15},
		"flat drum":      Drum{Diameter: 0.3, Length: 0.35},
		"standing drum":  Drum{Axis: Upright, Diameter: 0.28, Length: 0.4, Head: Head{Kind: Elliptical}},
		"dished drum":    Drum{Diameter: 0.3, Length: 0.35, Head: Head{Kind: Dished}},
		"deep heads":     Drum{Diameter: 0.3, Head: Head{Kind: Elliptical, Depth: 0.15}},
		"saddle":         Stack{Sections: saddle},
		"tunnel in a round floor": Stack{Sections: []Section{
			{At: 0, Width: 0.2, Height: 0.2, Roundness: 1},
			{At: 0.4, Width: 0.3, Height: 0.22, Side: 0.03, Roundness: 1, Notch: Notch{0.1, 0.12}}}},
		"standing stack": Stack{Axis: Upright, Sections: []Section{
			{At: 0, Width: 0.2, Height: 0.3, Roundness: 0.5, Notch: Notch{0.05, 0.1}},
			{At: 0.3, Width: 0.24, Height: 0.3, Bottom: 0.02, Side: 0.01, Roundness: 0.2}}},
		"bent stack": Stack{
			Sections: []Section{
				{At: 0, Width: 0.16, Height: 0.2, Side: 0.02, Roundness: 0.4},
				{At: 0.3, Width: 0.2, Height: 0.16, Bottom: 0.02, Corner: 0.02, Notch: Notch{0.05, 0.04}},
				{At: 0.55, Width: 0.14, Height: 0.15, Side: -0.01, Roundness: 0.6}},
			Bends: []Bend{{At: 0.1, Angle: 50 * deg, Radius: 0.2}, {At: 0.4, Angle: -30 * deg, Radius: 0.25}}},
		"hopper":       Cone{Axis: Upright, Near: 0.1, Far: 0.32, Length: 0.35},
		"pointed cone": Cone{Near: 0.3, Length: 0.4},
		"wedge":        Wedge{Length: 0.4, Width: 0.25, Rear: 0.22, Front: 0.1, Radius: 0.03},
		"ring":         Ring{Diameter: 0.4, Width: 0.12, Height: 0.1, Roundness: 0.7},
		"drum with a well and a neck": Fitted{
			Tank: Drum{Diameter: 0.3, Length: 0.35, Head: Head{Kind: Elliptical}},
			Necks: []Neck{
				{Centre: geometry.V(-0.1, 0.02, -0.04), Axis: geometry.V(0, 0, -1), Diameter: 0.09},
				{Centre: geometry.V(0.09, 0.06, 0.33), Axis: geometry.V(0, 0.2, 1), Diameter: 0.06}}},
		"box with a tunnel": Fitted{
			Tank:    Box{Length: 0.4, Width: 0.25, Height: 0.2, Radius: 0.03},
			Tunnels: []Tunnel{{From: geometry.V(0.05, -0.2, 0.1), To: geometry.V(0.02, 0.2, 0.08), Diameter: 0.05}}},
		"lobes": Lobes{Lobe: Box{Length: 0.4, Width: 0.12, Height: 0.2, Radius: 0.04}, Spread: 0.2,
			Crossover: Crossover{X: -0.1, Z: 0.05, Diameter: 0.05}},
	}
}

// handles is how many holes go right through a specimen, where there are any.
var handles = map[string]int{"ring": 1, "box with a tunnel": 1}

// noFormula lists the specimens whose volume only their mesh can tell.
var noFormula = map[string]bool{
	"tunnel in a round floor": true, "drum with a well and a neck": true, "box with a tunnel": true, "lobes": true,
}

func TestSpecimensAreValid(t *testing.T) {
	for name, s := range specimens() {
		assert.NoError(t, s.Validate(), name)
	}
}

// Every mesh is one closed shell, evenly turned outward, at coarse and at fine edges.
func TestMeshesAreClosed(t *testing.T) {
	for name, s := range specimens() {
		for _, edge := range []float64{0.004, 0.03} {
			t.Run(fmt.Sprint(name, " ", mm(edge)), func(t *testing.T) {
				m := s.Mesh(edge)
				edges := topology.Edges(&m)
				assert.Zero(t, topology.FaultsOf(edges))
				_, shells := topology.Shells(edges, len(m.Faces))
				assert.Equal(t, 1, shells)
				assert.Equal(t, 2-2*handles[name], len(m.Vertices)-len(edges)+len(m.Faces), "Euler: a ball with handles")
				assert.Greater(t, m.Volume(), 0.0)
				for i := range m.Faces {
					require.Greater(t, m.Triangle(i).Area(), 0.0, "facet %d", i)
				}
			})
		}
	}
}

// Two routes: the formula against the divergence theorem on a 4 mm mesh, to 0.1 %.
func TestFormulaAgreesWithMesh(t *testing.T) {
	for name, s := range specimens() {
		formula, ok := s.Volume()
		require.Equal(t, !noFormula[name], ok, name)
		if !ok {
			continue
		}
		m := s.Mesh(DefaultEdge)
		assert.InEpsilon(t, formula, m.Volume(), 0.001, name)
	}
}

// Two routes: the mesh against counting points by Contains, 60,000 of them spread so
// evenly that the count is good to about 0.2 %.
func TestSamplingAgreesWithMesh(t *testing.T) {
	for name, s := range specimens() {
		m := s.Mesh(DefaultEdge)
		assert.InEpsilon(t, m.Volume(), sampledVolume(s, 60_000), 0.005, name)
	}
}

// sampledVolume counts n points of the bounds, spread by irrational steps that stand
// askew to every flat wall (Roberts 2018: powers of the root of x⁴ = x + 1; from memory).
func sampledVolume(s Shape, n int) float64 {
	const root = 1.2207440846057596
	b := s.Bounds()
	size, count := b.Size(), 0
	part := func(i, power int) float64 { return math.Mod(0.5+float64(i)/math.Pow(root, float64(power)), 1) }
	for i := range n {
		if s.Contains(b.Min.Add(geometry.V(size.X*part(i, 1), size.Y*part(i, 2), size.Z*part(i, 3)))) {
			count++
		}
	}
	return float64(count) / float64(n) * size.X * size.Y * size.Z
}

// Two routes: Contains against ray parity through the mesh, for points that lie
// farther from the wall than the mesh's chords do (0.2 mm).
func TestContainsAgreesWithParity(t *testing.T) {
	for name, s := range specimens() {
		m := s.Mesh(DefaultEdge)
		b := s.Bounds().Grow(0.01)
		for i, p := range scattered(b, 60) {
			want, sure := parity(&m, p)
			if sure && s.Contains(p) != want {
				require.Less(t, wallDistance(&m, p), 0.0002, "%s: point %d at %v", name, i, p)
			}
		}
	}
}

// scattered returns n points spread over b (Halton 1960, bases 2, 3 and 5).
func scattered(b geometry.Box, n int) []geometry.Vec {
	size := b.Size()
	out := make([]geometry.Vec, n)
	for i := range out {
		out[i] = b.Min.Add(geometry.V(size.X*halton(i+1, 2), size.Y*halton(i+1, 3), size.Z*halton(i+1, 5)))
	}
	return out
}

func halton(i, base int) float64 {
	f, r := 1.0, 0.0
	for ; i > 0; i /= base {
		f /= float64(base)
		r += f * float64(i%base)
	}
	return r
}

// parity counts facets above p; sure is false when an edge lies right above it.
func parity(m *geometry.Mesh, p geometry.Vec) (inside, sure bool) {
	sure = true
	for i := range m.Faces {
		t := m.Triangle(i)
		if p.X < min(t.A.X, t.B.X, t.C.X) || p.X > max(t.A.X, t.B.X, t.C.X) ||
			p.Y < min(t.A.Y, t.B.Y, t.C.Y) || p.Y > max(t.A.Y, t.B.Y, t.C.Y) {
			continue
		}
		u, v, w := side2(t.A, t.B, p), side2(t.B, t.C, p), side2(t.C, t.A, p)
		if math.Abs(u) < 1e-13 || math.Abs(v) < 1e-13 || math.Abs(w) < 1e-13 {
			sure = false
		}
		if (u > 0) == (v > 0) && (v > 0) == (w > 0) {
			z := (t.A.Z*v + t.B.Z*w + t.C.Z*u) / (u + v + w)
			if z > p.Z {
				inside = !inside
			}
		}
	}
	return inside, sure
}

func side2(a, b, p geometry.Vec) float64 { return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X) }

func wallDistance(m *geometry.Mesh, p geometry.Vec) float64 {
	best := math.Inf(1)
	for i := range m.Faces {
		best = min(best, m.Triangle(i).Closest(p).Dist(p))
	}
	return best
}

// Every corner of a mesh lies on the wall: a step in is inside, a step out is outside.
func TestMeshCornersLieOnTheWall(t *testing.T) {
	for name, s := range specimens() {
		b, m := s.Bounds(), s.Mesh(0.01)
		for _, v := range m.Vertices {
			// A micrometre is what joining shapes may shift a corner by.
			require.True(t, b.Grow(1e-6).Contains(v), "%s: %v leaves the bounds", name, v)
		}
		inner := m.Bounds()
		for axis := range 3 {
			assert.InDelta(t, b.Min.Axis(axis), inner.Min.Axis(axis), 2e-4, "%s axis %d", name, axis)
			assert.InDelta(t, b.Max.Axis(axis), inner.Max.Axis(axis), 2e-4, "%s axis %d", name, axis)
		}
	}
}
