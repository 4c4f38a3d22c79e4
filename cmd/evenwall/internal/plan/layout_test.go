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
	"evenwall/geometry"
)

// upright is a small tank of revolution, its filler in the middle of the roof. Its rods get a
// supply that the wall of the best place needs all of.
const upright = `job: 1
tank:
  shape: {drum: {axis: upright, diameter: 90, length: 150, heads: flat}}
  openings: [{name: filler, centre: [0, 0, 150], axis: [0, 0, 1], diameter: 40}]
bath: {conductivity: 0.6 S/m}
supply: {voltage: 12 V, resistance: 0.3 ohm, limit: 1 A}
search: {clearance: 15, rods: [8]}
`

// A tank of revolution has the evenest layout on its axis, or one that leans to some side and
// is as good leaning to any other: here the mirror images are solved. The lattice is
// symmetric, the patches of wall are not: the hours are those of some 400, of which the last
// twentieth, 20 patches, decides, and one of them more or less moves them by up to 2 %.
func TestLayoutOfASymmetricTankIsItsOwnMirrorImageOrAsGood(t *testing.T) {
	ctx := context.Background()
	best, err := Layout(ctx, parsed(t, upright), quiet)
	require.NoError(t, err)
	rod := best.Layout.Stations[0].Anodes[0].Rod
	off := rod.Path[0]
	t.Logf("the tip is %.1f mm off the axis, the top %.1f", 1000*math.Hypot(off.X, off.Y), 1000*math.Hypot(rod.Path[1].X, rod.Path[1].Y))
	for _, sign := range [][2]float64{{-1, 1}, {1, -1}, {-1, -1}} {
		image := *best.Layout
		image.Stations = []job.Station{image.Stations[0]}
		a := image.Stations[0].Anodes[0]
		a.Path = []geometry.Vec{mirrored(rod.Path[0], sign), mirrored(rod.Path[1], sign)}
		image.Stations[0].Anodes = []job.Anode{a}
		rows, err := Compare(ctx, []*job.Job{best.Layout, &image}, false, quiet)
		require.NoError(t, err)
		r := rows.Result.Comparison.Rows
		require.NotNil(t, r[0].Hours)
		require.NotNil(t, r[1].Hours)
		assert.InEpsilon(t, r[0].MeanAM2, r[1].MeanAM2, 1e-3, "mirrored by %v", sign)
		assert.InEpsilon(t, r[0].P50AM2, r[1].P50AM2, 5e-3, "mirrored by %v", sign)
		assert.InEpsilon(t, *r[0].Hours, *r[1].Hours, 0.02, "mirrored by %v", sign)
	}
}

func mirrored(p geometry.Vec, sign [2]float64) geometry.Vec {
	return geometry.V(sign[0]*p.X, sign[1]*p.Y, p.Z)
}

// laid is Layout with an effort of its own.
func laid(t *testing.T, j *job.Job, effort search.Settings) (*hunt, *search.Result, *report.Answer) {
	ctx := context.Background()
	tank, err := NewTank(ctx, j, j.First().Attitude)
	require.NoError(t, err)
	h, err := tank.newHunt(j.First())
	require.NoError(t, err)
	require.NoError(t, h.screen.build(ctx))
	effort.AnodeLimit, effort.Keep = mostOnAnode, 3
	found, err := search.Search(ctx, h.problem(), effort)
	require.NoError(t, err)
	answer, err := h.answer(ctx, found)
	require.NoError(t, err)
	return h, found, answer
}

// A search that looks about hardly at all still ends with the layout it began from or a better
// one, by the figures that are shown.
func TestLayoutIsNeverWorseThanTheStart(t *testing.T) {
	j := parsed(t, upright)
	_, _, good := laid(t, j, search.Settings{Reach: 100, Scatter: 60, Refine: 300})
	j.Anodes = good.Layout.Stations[0].Anodes
	h, found, again := laid(t, j, search.Settings{Reach: 8, Scatter: 2, Refine: 2})
	require.Len(t, found.Starts, 1)
	fine, err := h.NewBasin(0)
	require.NoError(t, err)
	s, err := fine.solve(context.Background(), j.Anodes, forJudging)
	require.NoError(t, err)
	e := s.exposure(s.onto(h.coarse, found.Best.Exposure.Rate))
	start := search.Judge(found.Patches, aimOf(j.Aim), &e)
	require.True(t, start.Finish.Ever)
	require.NotNil(t, again.Result.Hours)
	assert.LessOrEqual(t, *again.Result.Hours, start.Finish.Seconds/3600*(1+1e-3)) // as closely as candidates are solved
}

// One more position that may be used never makes the whole longer, and in a long tank with its
// filler at one end it makes it shorter.
func TestAPositionMoreNeverTakesLonger(t *testing.T) {
	j := parsed(t, `job: 1
tank:
  shape: {box: {length: 240, width: 90, height: 80, round: 15}}
  openings: [{name: filler, centre: [-40, 0, 80], axis: [0, 0, 1], diameter: 45}]
bath: {conductivity: 0.6 S/m}
supply: {voltage: 12 V, resistance: 0.3 ohm, limit: 2 A}
aim: {least: 0.5 A/m2}
search: {clearance: 15, rods: [8]}
`)
	var hours []float64
	for stations := 1; stations <= 3; stations++ {
		_, _, a := laid(t, j, search.Settings{Reach: 100, Scatter: 60, Refine: 200, Stations: stations})
		require.NotNil(t, a.Result.Hours)
		hours = append(hours, *a.Result.Hours)
		t.Logf("up to %d: %d used, %.1f h", stations, len(a.Result.Stations), *a.Result.Hours)
	}
	assert.Less(t, hours[1], hours[0])
	assert.LessOrEqual(t, hours[2], hours[1]*(1+1e-9))
}
