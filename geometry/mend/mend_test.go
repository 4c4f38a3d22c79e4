package mend

import (
	"bytes"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/mend/damage"
	"evenwall/geometry/shape"
	"evenwall/geometry/stlfile"
	"evenwall/geometry/topology"
)

// box is a tank of 300 x 200 x 150 mm with edges rounded to 30 mm.
var box = shape.Box{Length: 0.3, Width: 0.2, Height: 0.15, Radius: 0.03}

// filler is an opening of 60 mm in its roof.
var filler = Opening{"filler", geometry.Disc{Centre: geometry.V(0.05, 0, 0.15), Axis: geometry.V(0, 0, 1), Radius: 0.03, Depth: 0.015}}

// brick returns a closed box with sharp edges and facets of at most edge metres, low corner
// at low.
func brick(low, size geometry.Vec, edge float64) geometry.Mesh {
	coarse := geometry.Mesh{Faces: [][3]int32{
		{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5},
	}}
	for i := range 8 {
		coarse.Vertices = append(coarse.Vertices, low.Add(geometry.V(size.X*float64(i&1), size.Y*float64(i>>1&1), size.Z*float64(i>>2))))
	}
	return fine(coarse, edge)
}

// fine returns m with every facet split until no side is longer than edge metres.
func fine(m geometry.Mesh, edge float64) geometry.Mesh {
	var out geometry.Mesh
	for i := range m.Faces {
		m.Triangle(i).Split(edge, func(t geometry.Triangle) {
			n := int32(len(out.Vertices))
			out.Vertices = append(out.Vertices, t.A, t.B, t.C)
			out.Faces = append(out.Faces, [3]int32{n, n + 1, n + 2})
		})
	}
	return out
}

// filed returns m as it comes back from a file.
func filed(t require.TestingT, m geometry.Mesh) geometry.Mesh {
	var out bytes.Buffer
	require.NoError(t, stlfile.Write(&out, &m, stlfile.Millimetre, "test"))
	back, _, err := stlfile.Parse(out.Bytes(), stlfile.Millimetre)
	require.NoError(t, err)
	return back
}

// isClosed reports whether every side is run along as often one way as the other: then
// volume and winding numbers mean what they say.
func isClosed(t assert.TestingT, m *geometry.Mesh) bool {
	open := 0
	for _, e := range topology.Edges(m) {
		sum := 0
		for _, u := range e.Uses {
			if u.Forward {
				sum++
			} else {
				sum--
			}
		}
		if sum != 0 {
			open++
		}
	}
	return assert.Zero(t, open)
}

func TestSoundSurfaceStaysAsItIs(t *testing.T) {
	m := box.Mesh(0.02)
	got, err := Shell(m, Settings{Openings: []Opening{filler}})
	require.NoError(t, err)
	assert.True(t, got.Report.IsSound())
	assert.Equal(t, m, got.Shell)
	assert.Equal(t, m, got.Open)
	assert.Empty(t, got.Report.Words(geometry.Vec.String))
}

// Whatever is done to a surface, alone or together: what comes back is closed and turned
// outward, keeps volume and area, and both inside tests place points in it alike. The
// surface that was given is not changed.
func TestBrokenSurfacesAreMended(t *testing.T) {
	whole := filed(t, brick(geometry.V(-0.15, -0.1, 0), geometry.V(0.3, 0.2, 0.15), 0.03))
	for seed := range uint64(30) {
		random := rand.New(rand.NewPCG(seed, 2))
		d := damage.Damage{
			Lost: 0.05 * random.Float64(), Flipped: 0.5 * random.Float64(), Doubled: 0.05 * random.Float64(),
			Crack: []float64{0, 0.1e-3, 0.5e-3}[random.IntN(3)],
		}
		if random.IntN(2) == 0 {
			d.Cut = []geometry.Disc{filler.Disc}
		}
		m := filed(t, d.Apply(whole, seed, nil))
		before := geometry.Mesh{Vertices: slices.Clone(m.Vertices), Faces: slices.Clone(m.Faces)}
		got, err := Shell(m, Settings{Openings: []Opening{filler}})
		require.NoError(t, err, "seed %d, %+v", seed, d)
		assert.Equal(t, before, m)
		require.True(t, isClosed(t, &got.Shell), "seed %d, %+v", seed, d)
		assert.InEpsilon(t, whole.Volume(), got.Shell.Volume(), 0.005, "seed %d, %+v", seed, d)
		assert.InEpsilon(t, whole.Area(), got.Shell.Area(), 0.02, "seed %d, %+v", seed, d)
		agree(t, &got.Shell)
	}
}

// agree holds the parity of rays against winding numbers at points spread over the bounds.
func agree(t assert.TestingT, m *geometry.Mesh) {
	tree := geometry.NewTree(m)
	winding := geometry.NewWinding(tree)
	b := m.Bounds()
	size := b.Size()
	for i := range 200 {
		// golden-ratio steps fill the box evenly
		p := b.Min.Add(geometry.V(size.X*frac(0.8191725134*float64(i)), size.Y*frac(0.6710436067*float64(i)), size.Z*frac(0.5497004779*float64(i))))
		if _, _, d := tree.ClosestWithin(p, 1e-3); d < 1e-3 {
			continue // winding numbers by expansion are good to 0.04
		}
		rays := len(tree.Crossings(p, geometry.V(0.3, 0.5, 0.8), nil))
		assert.Equal(t, rays%2 == 1, winding.At(p) > 0.5, "%v", p)
	}
}

func frac(x float64) float64 { return x - math.Floor(x) }

// A hole at an opening's circle is that opening, another one is wall; each is told with its
// size and place. 20 mm square and 60 mm round, by hand.
func TestHolesAreTold(t *testing.T) {
	m := brick(geometry.V(-0.15, -0.1, 0), geometry.V(0.3, 0.2, 0.15), 0.01)
	m, _, _, _ = filler.Disc.Cut(&m)
	var pierced geometry.Mesh
	pierced.Vertices = m.Vertices
	for i, f := range m.Faces {
		c := m.Triangle(i).Centroid()
		if math.Abs(c.X+0.15) < 1e-9 && math.Abs(c.Y) < 0.0125 && c.Z > 0.05 && c.Z < 0.07 {
			continue
		}
		pierced.Faces = append(pierced.Faces, f)
	}
	got, err := Shell(filed(t, pierced), Settings{Openings: []Opening{filler}})
	require.NoError(t, err)
	isClosed(t, &got.Shell)
	assert.InEpsilon(t, 0.3*0.2*0.15, got.Shell.Volume(), 1e-6)
	require.Len(t, got.Report.HolesOf(Filler), 1)
	at := got.Report.HolesOf(Filler)[0]
	assert.Equal(t, "filler", at.Opening)
	assert.InDelta(t, 0.060, at.Across, 2*crackWidth, "slivers that the cut leaves at the rim go with it")
	assert.InDelta(t, math.Pi*0.03*0.03, at.Area, math.Pi*0.06*crackWidth)
	closed := got.Report.HolesOf(Closed)
	require.Len(t, closed, 1)
	assert.InDelta(t, closed[0].Area, m.Area()-pierced.Area(), 1e-7)
	assert.Less(t, closed[0].Centre.Dist(geometry.V(-0.15, 0, 0.06)), 0.004)
}

// Where a whole side is missing the inside is a guess.
func TestMissingSideIsAGuess(t *testing.T) {
	m := brick(geometry.Vec{}, geometry.V(0.3, 0.2, 0.15), 0.02)
	open := geometry.Mesh{Vertices: m.Vertices}
	for i, f := range m.Faces {
		if m.Triangle(i).Normal().Z > -0.5 {
			open.Faces = append(open.Faces, f)
		}
	}
	_, err := Shell(filed(t, open), Settings{})
	var guessed *GuessError
	require.ErrorAs(t, err, &guessed)
	assert.InDelta(t, math.Hypot(0.3, 0.2), guessed.Across, 1e-6)
	assert.Contains(t, err.Error(), "has a hole 361 mm across at [150.0, 100.0, 0.0] mm, more than the")
}

// Two bodies that overlap are their union; by hand.
func TestOverlappingBodiesAreJoined(t *testing.T) {
	m := brick(geometry.Vec{}, geometry.V(0.2, 0.12, 0.08), 0.03)
	m.Append(brick(geometry.V(0.15, 0.031, 0.017), geometry.V(0.1, 0.05, 0.04), 0.03))
	got, err := Shell(filed(t, m), Settings{})
	require.NoError(t, err)
	isClosed(t, &got.Shell)
	assert.Equal(t, 1, got.Report.Joined)
	assert.InDelta(t, 0.2*0.12*0.08+0.05*0.05*0.04, got.Shell.Volume(), 1e-9)
	assert.InDelta(t, 2*(0.2*0.12+0.12*0.08+0.2*0.08)+2*0.05*(0.05+0.04), got.Shell.Area(), 1e-7)
}

// What a scan brings along: a table top under the tank, crumbs, a sheet and a body inside.
func TestStrayPiecesAndWhatIsInside(t *testing.T) {
	tank := brick(geometry.Vec{}, geometry.V(0.3, 0.2, 0.15), 0.02)
	m := tank
	table := geometry.Mesh{Vertices: []geometry.Vec{{X: -0.2, Y: -0.2, Z: -0.01}, {X: 0.5, Y: -0.2, Z: -0.01}, {X: 0, Y: 0.5, Z: -0.01}}, Faces: [][3]int32{{0, 1, 2}}}
	m.Append(table)
	m.Append(brick(geometry.V(0.4, 0, 0), geometry.V(0.004, 0.004, 0.004), 1))
	sheet := geometry.Mesh{Vertices: []geometry.Vec{{X: 0.1, Y: 0.01, Z: 0.02}, {X: 0.1, Y: 0.19, Z: 0.02}, {X: 0.1, Y: 0.19, Z: 0.14}, {X: 0.1, Y: 0.01, Z: 0.14}}, Faces: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	m.Append(sheet)
	m.Append(brick(geometry.V(0.2, 0.1, 0.05), geometry.V(0.03, 0.02, 0.02), 1))
	got, err := Shell(filed(t, m), Settings{})
	require.NoError(t, err)
	assert.Equal(t, 2, got.Report.Strays)
	assert.Equal(t, 1, got.Report.Bodies)
	require.Len(t, got.Sheets, 1)
	assert.InDelta(t, sheet.Area(), got.Sheets[0].Area(), 1e-8)
	assert.InDelta(t, 0.3*0.2*0.15-0.03*0.02*0.02, got.Shell.Volume(), 1e-8)
}

// A wall of 2 mm with both its skins, joined round the filler's bore: the inner one is the
// tank. The same with the skins apart, turned either way. Volume by the sides.
func TestInnerOfTwoSkins(t *testing.T) {
	outer := brick(geometry.V(-0.152, -0.102, -0.002), geometry.V(0.304, 0.204, 0.154), 0.02)
	inner := brick(geometry.V(-0.15, -0.1, 0), geometry.V(0.3, 0.2, 0.15), 0.02)
	apart := outer
	apart.Append(inner)
	facing := outer
	facing.Append(turnedOver(inner))

	for name, m := range map[string]geometry.Mesh{"alike": apart, "facing": facing, "joined": thick(outer, inner)} {
		got, err := Shell(filed(t, m), Settings{Openings: []Opening{filler}})
		require.NoError(t, err, name)
		isClosed(t, &got.Shell)
		assert.InEpsilon(t, 0.3*0.2*0.15, got.Shell.Volume(), 1e-5, name)
		assert.InDelta(t, 0.002, got.Report.Skins, 1e-5, name)
	}
	_, err := Shell(filed(t, thick(outer, inner)), Settings{})
	assert.ErrorContains(t, err, "has two skins about 2.0 mm apart, joined where no opening is given")
}

// thick returns two nested skins joined by the bore of the filler.
func thick(outer, inner geometry.Mesh) geometry.Mesh {
	disc := filler.Disc
	var out geometry.Mesh
	for _, m := range [2]geometry.Mesh{outer, turnedOver(inner)} {
		cut, _, _, _ := disc.Cut(&m)
		out.Append(cut)
	}
	const sides = 128
	apothem := disc.Radius * math.Sqrt(math.Pi/sides/math.Tan(math.Pi/sides)) / math.Cos(math.Pi/sides)
	at := func(i int, z float64) geometry.Vec {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / sides)
		u, v := disc.Axis.Perpendicular()
		p := disc.Centre.AddScaled(u, apothem*c).AddScaled(v, apothem*s)
		return geometry.V(p.X, p.Y, z)
	}
	for i := range sides {
		n := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, at(i, 0.15), at(i+1, 0.15), at(i+1, 0.152), at(i, 0.152))
		out.Faces = append(out.Faces, [3]int32{n, n + 2, n + 1}, [3]int32{n, n + 3, n + 2})
	}
	return out
}

// Two halves with a gap of 3 mm between them: a strip closes it. By hand, the strip square to
// the sides.
func TestHalvesAreJoined(t *testing.T) {
	whole := brick(geometry.Vec{}, geometry.V(0.3, 0.2, 0.15), 0.01)
	cut := func(plane geometry.Plane) geometry.Mesh {
		m, _ := whole.Below(plane, geometry.Slack{})
		return m
	}
	m := cut(geometry.PlaneThrough(geometry.V(0.1485, 0, 0), geometry.V(1, 0, 0)))
	rear := cut(geometry.PlaneThrough(geometry.V(0.1515, 0, 0), geometry.V(-1, 0, 0)))
	m.Append(turnedOver(rear))
	got, err := Shell(filed(t, m), Settings{})
	require.NoError(t, err)
	isClosed(t, &got.Shell)
	require.Len(t, got.Report.HolesOf(Seam), 1)
	assert.InDelta(t, 2*(0.2+0.15)*0.003, got.Report.HolesOf(Seam)[0].Area, 1e-6)
	assert.InDelta(t, 0.3*0.2*0.15, got.Shell.Volume(), 1e-8)
}

// An outside skin less its sheet: a box by its sides, a drum by its formula.
func TestSheetIsTakenOff(t *testing.T) {
	got, err := Shell(filed(t, brick(geometry.Vec{}, geometry.V(0.3, 0.2, 0.15), 0.02)), Settings{Skin: Outside, Sheet: 0.0015})
	require.NoError(t, err)
	assert.InEpsilon(t, 0.297*0.197*0.147, got.Shell.Volume(), 1e-6)
	drum := shape.Drum{Diameter: 0.3, Length: 0.35}
	less := shape.Drum{Diameter: 0.297, Length: 0.347}
	got, err = Shell(drum.Mesh(0.008), Settings{Skin: Outside, Sheet: 0.0015})
	require.NoError(t, err)
	want := less.Mesh(0.008)
	assert.InEpsilon(t, want.Volume(), got.Shell.Volume(), 1e-3)
}

// Holes in a baffle under 12 mm are closed, wider ones are part of it; notches at its edge
// likewise. Areas of the damaged sheet are those of the whole but for what is wider.
func TestSheetKeepsItsWideHoles(t *testing.T) {
	whole, _, err := stlfile.Read(filepath.Join("..", "..", "testdata", "stl", "baffle.stl"), stlfile.Millimetre)
	require.NoError(t, err)
	shell, _, err := stlfile.Read(filepath.Join("..", "..", "testdata", "stl", "box.stl"), stlfile.Millimetre)
	require.NoError(t, err)
	got, report := Sheet(whole, &shell)
	assert.Empty(t, report.Holes, "the hole of 40 mm and the slot stay")
	assert.InEpsilon(t, whole.Area(), got.Area(), 1e-9)
	for seed := range uint64(5) {
		var lost []geometry.Vec
		keep := func(t geometry.Triangle) bool {
			near := slices.ContainsFunc(lost, func(p geometry.Vec) bool { return p.Dist(t.Centroid()) < smallHole })
			if !near {
				lost = append(lost, t.Centroid())
			}
			return near
		}
		m := filed(t, damage.Damage{Lost: 0.05, Flipped: 0.5, Doubled: 0.05}.Apply(whole, seed, keep))
		got, report := Sheet(m, &shell)
		assert.InEpsilon(t, whole.Area(), got.Area(), 2e-3)
		assert.InDelta(t, len(lost), len(report.Holes), 3)
	}
}
