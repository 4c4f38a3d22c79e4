package carve

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// cuboid returns a closed box with its sides cut into n by n squares.
func cuboid(b geometry.Box, n int) geometry.Mesh {
	var m geometry.Mesh
	number := map[[3]int]int32{}
	corner := func(at [3]int) int32 {
		if id, ok := number[at]; ok {
			return id
		}
		s, k := b.Size(), 1/float64(n)
		number[at] = int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, b.Min.Add(geometry.V(s.X*float64(at[0])*k, s.Y*float64(at[1])*k, s.Z*float64(at[2])*k)))
		return number[at]
	}
	for axis := range 3 {
		for _, high := range []int{0, n} {
			for i := range n {
				for j := range n {
					at := func(di, dj int) int32 {
						var p [3]int
						p[axis], p[(axis+1)%3], p[(axis+2)%3] = high, i+di, j+dj
						return corner(p)
					}
					q := [4]int32{at(0, 0), at(1, 0), at(1, 1), at(0, 1)}
					if high == 0 {
						q[1], q[3] = q[3], q[1]
					}
					m.Faces = append(m.Faces, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
				}
			}
		}
	}
	return m
}

// ball returns a closed sphere of facets with all corners on it: a cube blown up.
func ball(centre geometry.Vec, radius float64, n int) geometry.Mesh {
	cube := cuboid(geometry.Box{Min: geometry.V(-1, -1, -1), Max: geometry.V(1, 1, 1)}, n)
	return cube.Transformed(func(v geometry.Vec) geometry.Vec { return centre.AddScaled(v.Unit(), radius) })
}

func requireClosed(t *testing.T, m *geometry.Mesh) {
	t.Helper()
	require.Equal(t, topology.Faults{}, topology.FaultsOf(topology.Edges(m)))
}

// Two boxes that share a corner region: volumes by hand.
func TestBoxesByHand(t *testing.T) {
	a := cuboid(geometry.Box{Max: geometry.V(0.2, 0.2, 0.2)}, 3)
	b := cuboid(geometry.Box{Min: geometry.V(0.1, 0.13, 0.14), Max: geometry.V(0.3, 0.3, 0.3)}, 2)
	const va, vb, both = 0.008, 0.2 * 0.17 * 0.16, 0.1 * 0.07 * 0.06
	u, err := Union(&a, &b)
	require.NoError(t, err)
	requireClosed(t, &u)
	assert.InDelta(t, va+vb-both, u.Volume(), 1e-8)
	d, err := Difference(&a, &b)
	require.NoError(t, err)
	requireClosed(t, &d)
	assert.InDelta(t, va-both, d.Volume(), 1e-8)
}

// Walls in one plane: boxes side by side, on each other, one flush in the other.
func TestBoxesWithWallsInOnePlane(t *testing.T) {
	a := cuboid(geometry.Box{Max: geometry.V(0.2, 0.2, 0.2)}, 4)
	for _, c := range []struct {
		name      string
		box       geometry.Box
		sum, rest float64 // m³
	}{
		{"half across", geometry.Box{Min: geometry.V(0.1, 0, 0), Max: geometry.V(0.3, 0.2, 0.2)}, 0.012, 0.004},
		{"flush floor", geometry.Box{Min: geometry.V(0.15, 0.05, 0), Max: geometry.V(0.3, 0.1, 0.05)}, 0.008 + 0.1*0.05*0.05, 0.008 - 0.05*0.05*0.05},
		{"through", geometry.Box{Min: geometry.V(0.05, 0.05, 0), Max: geometry.V(0.1, 0.1, 0.2)}, 0.008, 0.008 - 0.05*0.05*0.2},
		{"the same", geometry.Box{Max: geometry.V(0.2, 0.2, 0.2)}, 0.008, 0},
	} {
		b := cuboid(c.box, 3)
		u, err := Union(&a, &b)
		require.NoError(t, err, c.name)
		requireClosed(t, &u)
		assert.InDelta(t, c.sum, u.Volume(), 1e-7, c.name)
		d, err := Difference(&a, &b)
		require.NoError(t, err, c.name)
		requireClosed(t, &d)
		assert.InDelta(t, c.rest, d.Volume(), 1e-7, c.name)
	}
}

// Two balls of radius r whose middles lie d apart share π(4r + d)(2r − d)²/12.
func TestBallsShareALens(t *testing.T) {
	const r, d = 0.1, 0.12
	a, b := ball(geometry.Vec{}, r, 24), ball(geometry.V(0.07, d*math.Sqrt(1-sq(0.07/d)-0.01), d*0.1), r, 24)
	lens := math.Pi * (4*r + d) * sq(2*r-d) / 12
	whole := 4.0 / 3 * math.Pi * r * r * r
	u, err := Union(&a, &b)
	require.NoError(t, err)
	requireClosed(t, &u)
	assert.InEpsilon(t, 2*whole-lens, u.Volume(), 0.005, "facets cut off 0.4 % of a ball")
	dd, err := Difference(&a, &b)
	require.NoError(t, err)
	// Whatever the facets: a less b, and what they share, make a.
	assert.InEpsilon(t, u.Volume(), dd.Volume()+b.Volume(), 1e-6)
}

func sq(x float64) float64 { return x * x }

// A surface wholly inside, or wholly apart, is not crossed at all.
func TestApartAndWithin(t *testing.T) {
	a := cuboid(geometry.Box{Max: geometry.V(0.2, 0.2, 0.2)}, 2)
	within := ball(geometry.V(0.1, 0.1, 0.1), 0.05, 6)
	apart := ball(geometry.V(0.5, 0.1, 0.1), 0.05, 6)
	u, err := Union(&a, &within)
	require.NoError(t, err)
	assert.InEpsilon(t, a.Volume(), u.Volume(), 1e-9)
	hollow, err := Difference(&a, &within)
	require.NoError(t, err)
	assert.InEpsilon(t, a.Volume()-within.Volume(), hollow.Volume(), 1e-9)
	two, err := Union(&a, &apart)
	require.NoError(t, err)
	assert.InEpsilon(t, a.Volume()+apart.Volume(), two.Volume(), 1e-9)
}

// A sheet across a ball is trimmed to a disc: its area by Pythagoras.
func TestTrimsASheet(t *testing.T) {
	b := ball(geometry.Vec{}, 0.1, 40)
	sheet := geometry.Mesh{
		Vertices: []geometry.Vec{{X: 0.06, Y: -1, Z: -1}, {X: 0.06, Y: 1, Z: -1}, {X: 0.06, Y: 1, Z: 1}, {X: 0.06, Y: -1, Z: 1}},
		Faces:    [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
	disc, err := Trim(&sheet, &b)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Pi*0.08*0.08, disc.Area(), 0.005)
	assert.Len(t, topology.Loops(topology.Edges(&disc)), 1)
	// A sheet that ends inside keeps its own edge there.
	sheet.Vertices[0].Z, sheet.Vertices[1].Z = 0, 0
	half, err := Trim(&sheet, &b)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Pi*0.08*0.08/2, half.Area(), 0.005)
}

// For any two balls, inclusion and exclusion hold to rounding, and results are closed.
func TestInclusionAndExclusion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) float64 { return rapid.Float64Range(-0.15, 0.15).Draw(t, name) }
		a := ball(geometry.Vec{}, 0.1, 5)
		turn := geometry.Attitude(at("pitch")*10, at("roll")*10)
		b := cuboid(geometry.Box{Min: geometry.V(-0.05, -0.08, -0.1), Max: geometry.V(0.05, 0.08, 0.1)}, rapid.IntRange(1, 4).Draw(t, "n"))
		shift := geometry.V(at("x"), at("y"), at("z"))
		b = b.Transformed(func(v geometry.Vec) geometry.Vec { return turn.Apply(v).Add(shift) })
		u, errU := Union(&a, &b)
		d, errD := Difference(&a, &b)
		if errors.Is(errU, ErrTangled) || errors.Is(errD, ErrTangled) {
			t.Skip("facets that all but lie in each other: refused, as documented")
		}
		if errU != nil || errD != nil {
			t.Fatal(errU, errD)
		}
		if f := topology.FaultsOf(topology.Edges(&u)); f != (topology.Faults{}) {
			t.Fatalf("union has faults %+v", f)
		}
		if gap := math.Abs(u.Volume() - d.Volume() - b.Volume()); gap > 1e-8 {
			t.Fatalf("union is not difference plus b by %g m³", gap)
		}
	})
}

func BenchmarkUnion(b *testing.B) {
	p, q := ball(geometry.Vec{}, 0.1, 60), ball(geometry.V(0.07, 0.03, 0.01), 0.1, 60)
	for b.Loop() {
		if _, err := Union(&p, &q); err != nil {
			b.Fatal(err)
		}
	}
}
