package plan

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/render"
)

const seesaw = `job: 1
tank:
  shape: {box: {length: 160, width: 90, height: 90}}
  openings: [{name: filler, centre: [0, 0, 90], axis: [0, 0, 1], diameter: 50}]
bath: {conductivity: 0.6 S/m, level: 0.8 L, headspace: soldered neck}
wall: {film: 0.02 ohm m2}
supply: {voltage: 9 V, limit: 4 A}
search: {clearance: 15, rods: [8], stations: 2, attitudes: [{pitch: 20}, {pitch: -20}]}
`

// A box of 160 x 90 x 90 mm with 0.8 L in it, 55.6 mm deep when level; pitched by 20 degrees the surface
// turns about the middle of that level, 29.1 mm up or down at the ends. By hand: wet in both attitudes are the floor
// and below the lower line of the two, on the sides to a ridge; in the first only the front from 26.4 to 84.7 mm and
// a triangle of 80 x 29.1 mm both ways from the middle on each side; likewise in the second at the rear.
func TestWallOfTwoAttitudesIsCutWhereTheLiquidStands(t *testing.T) {
	j := jobFile(t, "seesaw", seesaw)
	tour, err := newTour(context.Background(), j, quiet)
	require.NoError(t, err)
	wall := tour.hunts[0].wall
	depth, rise := 0.8e-3/(0.160*0.090), 0.080*math.Tan(20*math.Pi/180)
	area := func(class uint8) float64 { return wall.areaWhere(func(i int) bool { return wall.Class(i) == class }) }
	only := 0.090*2*rise + 2*(0.080*rise/2)*2 // the end, and on each side what is between the two lines
	assert.InEpsilon(t, only, area(1), 1e-3)
	assert.InEpsilon(t, only, area(2), 1e-3)
	both := 0.160*0.090 + 2*0.090*(depth-rise) + 2*(0.160*depth-0.080*rise)
	assert.InEpsilon(t, both, area(3), 1e-3)
	for k, h := range tour.hunts {
		wet := wall.areaWhere(func(i int) bool { return wall.wettedIn(i, k) })
		assert.InEpsilon(t, h.Filling.Wetted.Area(), wet, 1e-6, "attitude %d", k)
		ones := make([]float64, len(h.coarse.Recovery().Patches.All))
		for i := range ones {
			ones[i] = 1
		}
		for i, v := range h.way.spread(ones) {
			want := 0.0
			if wall.wettedIn(i, k) {
				want = 1
			}
			require.InDelta(t, want, v, 1e-12, "patch %d in attitude %d", i, k)
		}
	}
}

// The tank is turned between two positions; the file goes back through current and
// compare to the same figures.
func TestPositionsInSeveralAttitudes(t *testing.T) {
	ctx := context.Background()
	a, err := Layout(ctx, jobFile(t, "seesaw", seesaw), quiet)
	require.NoError(t, err)
	r := &a.Result
	require.NotNil(t, r.Turning)
	require.Len(t, r.Stations, 2)
	assert.Equal(t, "charge.png", a.Pictures[len(a.Pictures)-1].Name)
	require.NotNil(t, r.Hours, "turned, the share is reached")
	assert.InEpsilon(t, 20, math.Abs(r.Stations[0].Stance.PitchDeg), 1e-9)
	assert.InDelta(t, 0, r.Stations[0].Stance.PitchDeg+r.Stations[1].Stance.PitchDeg, 1e-9)
	assert.InDelta(t, r.Stations[1].Stance.LiquidL-r.Stations[0].Stance.LiquidL, r.Stations[1].Stance.AddL, 1e-12)

	dir := t.TempDir()
	path := filepath.Join(dir, "layout.yaml")
	require.NoError(t, os.WriteFile(path, a.Layout.YAML(dir), 0o644))
	again, err := job.Load(path)
	require.NoError(t, err)
	require.Len(t, again.Stations, 2)
	for i, s := range again.Stations {
		assert.Equal(t, a.Layout.Stations[i].Attitude, s.Attitude)
	}
	back, err := Current(ctx, again, quiet)
	require.NoError(t, err)
	assert.Equal(t, a.Wall, back.Wall)
	cell, wall := *r.Cell, *r.Wall
	assert.Equal(t, cell, *back.Result.Cell)
	assert.Equal(t, wall, *back.Result.Wall)

	// Compare holds it against the same wall and gives the same hours; the plumb rod, in one attitude, is held
	// against that wall too and never gets to its other end.
	found, err := Compare(ctx, []*job.Job{again}, true, quiet)
	require.NoError(t, err)
	c := found.Result.Comparison
	require.True(t, c.SameWall)
	assert.Equal(t, a.Result.Search.ReachableM2, c.Rows[0].ReachableM2)
	require.NotNil(t, c.Rows[0].Hours)
	assert.InDelta(t, *a.Result.Hours, *c.Rows[0].Hours, 2*1e-6/3600, "the times of both stations are written to a microsecond")
	assert.InDelta(t, a.Result.Reached.Ten, c.Rows[0].Reached.Ten, 1e-12)
	assert.Nil(t, c.Rows[1].Hours)
	assert.InEpsilon(t, a.Result.Turning.WallM2-a.Result.Turning.NeverWetM2, c.Rows[0].WettedM2, 1e-6)
}

// The charge on the wall, drawn over both attitudes, adds up to what flowed: current times hours of each
// position. Facets are as fine as patches, and those at the liquid's line take what their neighbours get.
func TestChargeOfSeveralAttitudesAddsUp(t *testing.T) {
	ctx := context.Background()
	j := jobFile(t, "seesaw", seesaw)
	tour, err := newTour(ctx, j, quiet)
	require.NoError(t, err)
	var c closeUp
	flowed := 0.0
	for k, h := range tour.hunts {
		rod := job.Anode{Through: "filler", Rod: geometry.Rod{Name: "rod", Path: geometry.Straight(geometry.V(0, 0, 0.02), geometry.V(0, 0, 0.14)), Radius: 0.004, Bare: []geometry.Span{{To: 0.03}}}}
		b, err := h.NewBasin(5e-3)
		require.NoError(t, err)
		s, err := b.Solve(ctx, []job.Anode{rod})
		require.NoError(t, err)
		hours := float64(k + 1)
		c.solved = append(c.solved, s)
		c.stations = append(c.stations, job.Station{Attitude: h.start.Attitude, Anodes: s.Anodes, Duration: 3600 * hours})
		flowed += s.Current * hours
	}
	scene := tour.hunts[0].Scene(c.stations[0].Anodes)
	surface := c.charged(&scene)
	drawn := 0.0
	for i := range surface.Mesh.Faces {
		if surface.State[i] == render.Wetted {
			drawn += surface.Value[i] * surface.Mesh.Triangle(i).Area()
		}
	}
	assert.InEpsilon(t, flowed, drawn, 0.02)
	assert.Equal(t, render.Plane{}, scene.Liquid)
}

// What does not go together is refused by name.
func TestAttitudesRefused(t *testing.T) {
	ctx := context.Background()
	_, err := Layout(ctx, jobFile(t, "spare", seesaw+"aim: {spare: [{name: seam, line: [[0, 0, 0]], most: 10 A/m2}]}\n"), quiet)
	assert.ErrorContains(t, err, "aim.spare: with search.attitudes: not supported yet")
	_, err = Layout(ctx, jobFile(t, "steep", strings.Replace(seesaw, "{pitch: -20}", "{pitch: 60}", 1)), quiet)
	assert.ErrorContains(t, err, "search.attitudes, pitch 60.0, roll 0 degrees: ")
	assert.ErrorContains(t, err, "bath.level: 0.80 L is more than the ")
}
