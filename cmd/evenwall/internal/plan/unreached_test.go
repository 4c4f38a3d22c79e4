package plan

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/search"
)

// neverIn returns a search in a tank of these lines, and what no layout reaches there.
func neverIn(t *testing.T, tank string) (*hunt, never) {
	t.Helper()
	ctx := context.Background()
	j := jobFile(t, "tank", "job: 1\ntank:\n"+tank+`
wall: {film: 0.02 ohm m2}
supply: {voltage: 9 V, limit: 4 A}
search: {clearance: 15, rods: [8]}
`)
	made, err := NewTank(ctx, j, j.First().Attitude)
	require.NoError(t, err)
	h, err := made.newHunt(j.First())
	require.NoError(t, err)
	require.NoError(t, h.screen.build(ctx))
	found, err := search.Reachable(ctx, h.problem(), h.settings())
	require.NoError(t, err)
	return h, h.neverReached(found.Reachable)
}

// unreachedIn names it.
func unreachedIn(t *testing.T, tank string) []report.Unreached {
	t.Helper()
	h, n := neverIn(t, tank)
	var r report.Result
	require.NoError(t, h.nameUnreached(context.Background(), &n, &r))
	return r.Unreached
}

// Two chambers of 160 and 80 mm, 120 mm high and wide, closed off from each other, the second
// with an opening of 56 mm that is plugged. Its wall by hand: two ends of 120 x 120 mm, one of
// them the plate, and four sides of 80 x 120 mm, less the opening.
func TestAClosedChamberIsNamedWithItsOpening(t *testing.T) {
	u := unreachedIn(t, `
  shape: {box: {length: 240, width: 120, height: 120}}
  baffles: [{plate: {centre: [40, 0, 60], normal: [1, 0, 0], width: 120, height: 120}}]
  openings:
    - {name: filler, centre: [-40, 0, 120], axis: [0, 0, 1], diameter: 56}
    - {name: sender, centre: [80, 0, 120], axis: [0, 0, 1], diameter: 56, use: plugged}
bath: {conductivity: 0.6 S/m}`)
	require.Len(t, u, 1)
	assert.InEpsilon(t, 2*0.0144+4*0.0096-math.Pi*0.028*0.028, u[0].AreaM2, 0.02)
	assert.Equal(t, "all round", u[0].Side)
	assert.Equal(t, "the plate (sheet 1)", u[0].Behind)
	assert.InDeltaSlice(t, []float64{0, 120}, u[0].HeightMM[:], 8)
	require.NotEmpty(t, u[0].Takes)
	assert.Contains(t, u[0].Takes[0], "a rod through the sender, now plugged: reaches 100 % of it")
}

// The same with a hole of 8 mm in the plate and no second opening: hardly any current comes
// through, and neither does a rod.
func TestAChamberBehindASmallHoleTakesAnotherOpening(t *testing.T) {
	u := unreachedIn(t, `
  shape: {box: {length: 240, width: 120, height: 120}}
  baffles: [{plate: {centre: [40, 0, 60], normal: [1, 0, 0], width: 120, height: 120, holes: [{across: 0, up: -45, diameter: 8}]}}]
  openings: [{name: filler, centre: [-40, 0, 120], axis: [0, 0, 1], diameter: 56}]
bath: {conductivity: 0.6 S/m}`)
	require.Len(t, u, 1)
	assert.InEpsilon(t, 2*0.0144+4*0.0096, u[0].AreaM2, 0.04, "but for the wall next to the hole")
	require.Len(t, u[0].Takes, 1)
	assert.Contains(t, u[0].Takes[0], "another opening, near [")
}

// Behind a plate that leaves 60 mm at the floor of a long tank only a bent rod gets far enough;
// the one named hangs, keeps the clearance and goes in.
func TestABentRodIsFoundUnderAPlate(t *testing.T) {
	ctx := context.Background()
	h, n := neverIn(t, `
  shape: {box: {length: 400, width: 100, height: 130}}
  baffles: [{plate: {centre: [-60, 0, 95], normal: [1, 0, 0], width: 100, height: 70}}]
  openings: [{name: filler, centre: [-130, 0, 130], axis: [0, 0, 1], diameter: 60}]
bath: {conductivity: 0.6 S/m}`)
	require.NotEmpty(t, n.wet)
	w, err := h.newRescue(ctx)
	require.NoError(t, err)
	near, err := w.probe(ctx, &n.wet[0], w.clear, w.space.Clearance)
	require.NoError(t, err)
	bent, share, err := w.bent(ctx, &n.wet[0], near.reaching())
	require.NoError(t, err)
	assert.Greater(t, share, leastRescue)
	require.NotNil(t, bent.Path)
	assert.Contains(t, bent.words(share, "anodes, bend"), "a rod of 8.0 mm bent by ")
	s := job.Station{Anodes: []job.Anode{bent.Anode}}
	require.NoError(t, h.Hangs(s))
	gaps := h.Gaps(s.Anodes)
	assert.GreaterOrEqual(t, gaps.Worst(), 0.015-1e-9)
	assert.True(t, h.insertion(&bent.Anode).In)
}

// A slot of 14 mm behind a plate that ends 12 mm below the roof: no rod of 8 mm that keeps 15 mm
// gets in, one that keeps less would.
func TestANarrowSlotTakesLessClearance(t *testing.T) {
	u := unreachedIn(t, `
  shape: {box: {length: 240, width: 120, height: 160}}
  baffles: [{plate: {centre: [106, 0, 74], normal: [1, 0, 0], width: 120, height: 148}}]
  openings: [{name: filler, centre: [-40, 0, 160], axis: [0, 0, 1], diameter: 56}]
bath: {conductivity: 0.6 S/m}`)
	require.NotEmpty(t, u)
	assert.Equal(t, "the plate (sheet 1)", u[0].Behind)
	require.Len(t, u[0].Takes, 2)
	assert.Contains(t, u[0].Takes[0], "no rod that keeps 15.0 mm from steel brings it 1 A/m2")
	assert.Contains(t, u[0].Takes[1], "a smaller search.clearance")
}

// A box half full: dry are the roof less the opening and 60 mm of its sides, by hand; filled to
// the brim all of it is wet.
func TestDryWallTakesAHigherLevel(t *testing.T) {
	u := unreachedIn(t, `
  shape: {box: {length: 240, width: 120, height: 120}}
  openings: [{name: filler, centre: [0, 0, 120], axis: [0, 0, 1], diameter: 56}]
bath: {conductivity: 0.6 S/m, level: 60, headspace: to look}`)
	require.Len(t, u, 1)
	assert.True(t, u[0].Dry)
	assert.InEpsilon(t, 0.240*0.120+0.720*0.060-math.Pi*0.028*0.028, u[0].AreaM2, 0.01)
	assert.Contains(t, u[0].Takes[0], "filling higher, to the brim: 60 mm more wet 100 % of it (the job keeps it dry: to look)")
}

// A pipe's end high up at the rear sets the brim: lifting the rear wets the roof.
func TestDryRoofTakesTurning(t *testing.T) {
	u := unreachedIn(t, `
  shape: {box: {length: 300, width: 120, height: 120}}
  openings: [{name: filler, centre: [-150, 0, 90], axis: [-0.5, 0, 0.866], diameter: 50}]
bath: {conductivity: 0.6 S/m}`)
	require.NotEmpty(t, u)
	assert.True(t, u[0].Dry)
	assert.Equal(t, "top", u[0].Side)
	require.Contains(t, u[0].Takes[0], "turning the tank: pitch ")
}

// A plate that hangs from the roof keeps air behind it, which the job keeps in; turned, the tank
// keeps less of it there.
func TestWallUnderTrappedAirTakesTurning(t *testing.T) {
	longOnly(t)
	u := unreachedIn(t, `
  shape: {box: {length: 200, width: 90, height: 100}}
  baffles: [{plate: {centre: [30, 0, 85], normal: [1, 0, 0], width: 90, height: 30}}]
  openings: [{name: filler, centre: [0, 0, 100], axis: [0, 0, 1], diameter: 50}]
bath: {conductivity: 0.6 S/m, air: trapped}`)
	var dry *report.Unreached
	for i := range u {
		if u[i].Dry && dry == nil {
			dry = &u[i]
		}
	}
	require.NotNil(t, dry)
	// By hand: the roof of 70 x 90 mm, 30 mm of the front, of two sides and of the plate.
	assert.InEpsilon(t, 0.070*0.090+0.030*(0.090+2*0.070+0.090), dry.AreaM2, 0.1)
	assert.Equal(t, "the plate (sheet 1)", dry.Behind)
	require.NotEmpty(t, dry.Takes)
	assert.Contains(t, dry.Takes[0], "turning the tank: pitch ")
}
