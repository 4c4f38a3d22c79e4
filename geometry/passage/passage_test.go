package passage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/shape"
)

// opening is a roof of 300 × 300 mm at z = 0 with a hole of 60 mm, and under it the sheets.
func opening(t testing.TB, sheets ...shape.Sheet) *geometry.Tree {
	roof := shape.Plate{Normal: geometry.V(0, 0, 1), Width: 0.3, Height: 0.3, Holes: []shape.Hole{{Diameter: 0.06}}}
	m := geometry.Mesh{}
	for _, s := range append(sheets, roof) {
		require.NoError(t, s.Validate())
		m.Append(s.Mesh(0.004))
	}
	return geometry.NewTree(&m)
}

func floor(z float64) shape.Plate {
	return shape.Plate{Centre: geometry.V(0, 0, z), Normal: geometry.V(0, 0, 1), Width: 0.3, Height: 0.3}
}

// hung is a way for a rod of 10 mm along a path that goes up through the middle of the hole.
func hung(steel *geometry.Tree, path ...geometry.Vec) Way {
	r := &geometry.Rod{Name: "rod", Path: path, Radius: 0.005}
	r.Bare = []geometry.Span{{From: 0, To: r.Length()}}
	s := r.Length() - path[len(path)-1].Z
	return Way{Rod: r, Hold: geometry.Hold{At: geometry.V(0, 0, 0), Along: geometry.V(0, 0, 1), Normal: geometry.V(0, 0, 1), S: s}, Steel: steel, Rim: 0.03, Patience: 300}
}

// By hand: 30 mm of hole less 5 mm of rod.
func TestStraightRodGoesStraightIn(t *testing.T) {
	w := hung(opening(t, floor(-0.2)), geometry.V(0, 0, -0.16), geometry.V(0, 0, 0.08))
	r := Find(w)
	require.True(t, r.In)
	assert.True(t, r.Straight)
	assert.InDelta(t, 0.025, r.Spare, 1e-4, "chords of 4 mm stand 0.07 mm into the hole")
}

func TestSpacerWiderThanTheOpening(t *testing.T) {
	w := hung(opening(t), geometry.V(0, 0, -0.16), geometry.V(0, 0, 0.08))
	w.Rod.Spacers = []geometry.Spacer{{At: 0.02, Radius: 0.032, Thick: 0.003}}
	r := Find(w)
	assert.False(t, r.In)
	assert.True(t, r.Stop.Wide)
	assert.InDelta(t, -0.002, r.Stop.Gap.Distance, 1e-12)
}

// A spacer of 40 mm does not come through a restrictor of 30 mm at the foot of a spout,
// however it is turned; the tip alone does.
func TestRestrictorStopsASpacer(t *testing.T) {
	spout := shape.Spout{Axis: geometry.V(0, 0, 1), Diameter: 0.058, Length: 0.05, Restrictor: 0.03}
	w := hung(opening(t, spout), geometry.V(0, 0, -0.16), geometry.V(0, 0, 0.08))
	require.True(t, Find(w).In)
	w.Rod.Spacers = []geometry.Spacer{{At: 0.02, Radius: 0.02, Thick: 0.003}}
	r := Find(w)
	require.False(t, r.In)
	assert.InDelta(t, -0.05, r.Stop.Gap.OnWall.Z, 0.02, "at the restrictor")
	assert.Greater(t, r.Stop.Left, 0.06)
}

// The rod keeps its leeway on all of the way, and at the end of it is where it is to be.
func TestBentRodIsThreaded(t *testing.T) {
	path, err := geometry.Bent(geometry.V(0.09, 0, -0.12), geometry.V(0, 0, -0.12), geometry.V(0, 0, 0.15), 0.025)
	require.NoError(t, err)
	w := hung(opening(t, floor(-0.16)), path...)
	r := Find(w)
	require.True(t, r.In)
	assert.False(t, r.Straight)
	assert.GreaterOrEqual(t, r.Spare, leeway)
	last := r.Poses[len(r.Poses)-1]
	assert.InDelta(t, w.Hold.S, last.S, 1e-9)
	assert.Zero(t, last.Lean.Norm()+last.Shift.Norm()+math.Abs(last.Spin))
	assert.Less(t, r.Poses[0].S, 0.0, "it starts outside")
	assert.LessOrEqual(t, len(r.Poses), 12, "a few steps")
}

// A leg of 90 mm square to its shank goes through a hole in a sheet; a tube that is longer
// than it is wide lets only a gentler bend through.
func TestSpoutStopsASharpBend(t *testing.T) {
	bent := func(angle float64) []geometry.Vec {
		sin, cos := math.Sincos(angle)
		corner := geometry.V(0, 0, -0.17)
		path, err := geometry.Bent(corner.Add(geometry.V(sin, 0, -cos).Scale(0.09)), corner, geometry.V(0, 0, 0.15), 0.02)
		require.NoError(t, err)
		return path
	}
	spout := shape.Spout{Axis: geometry.V(0, 0, 1), Diameter: 0.04, Length: 0.11}
	steel := opening(t, spout)
	require.True(t, Find(hung(opening(t), bent(math.Pi/2)...)).In)
	r := Find(hung(steel, bent(math.Pi/2)...))
	require.False(t, r.In)
	assert.Greater(t, r.Stop.Left, 0.05)
	assert.True(t, Find(hung(steel, bent(math.Pi/9)...)).In, "20 degrees")
}

// A chain in a hose follows its course: only what its own thickness meets stops it.
func TestFlexibleAnodeFollowsItsCourse(t *testing.T) {
	w := hung(opening(t, floor(-0.2)), geometry.V(0.12, 0, -0.15), geometry.V(0.05, 0, -0.15), geometry.V(0, 0, -0.1), geometry.V(0, 0, 0.1))
	w.Flexible = true
	r := Find(w)
	assert.True(t, r.In)
	w.Rod.Spacers = []geometry.Spacer{{At: 0.01, Radius: 0.02, Thick: 0.003}}
	w.Steel = opening(t, floor(-0.165))
	r = Find(w)
	require.False(t, r.In)
	assert.InDelta(t, -0.005, r.Stop.Gap.Distance, 1e-6, "20 mm of disc over 15 mm of room")
}

// A corner of 90 degrees between legs of 40 and 60 mm takes an arc of 20 mm.
func TestLeastBend(t *testing.T) {
	assert.InDelta(t, 0.02, LeastBend([]geometry.Vec{{X: 0.04}, {}, {Z: 0.06}}), 1e-12)
	assert.True(t, math.IsInf(LeastBend([]geometry.Vec{{X: 0.04}, {}}), 1))
}
