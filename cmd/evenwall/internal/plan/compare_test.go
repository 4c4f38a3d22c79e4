package plan

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
)

// smallBox is a box with a linear wall, in which a search takes seconds; keys come below it.
const smallBox = `
job: 1
tank:
  shape: {box: {length: 160, width: 120, height: 100, round: 10}}
  openings: [{name: filler, centre: [30, 0, 100], axis: [0, 0, 1], diameter: 56}]
bath: {conductivity: 0.6 S/m}
wall: {film: 0.02 ohm m2}
supply: {voltage: 9 V, resistance: 0.3 ohm, limit: 4 A}
`

// jobFile writes a job into a folder of its own and reads it.
func jobFile(t *testing.T, name, text string) *job.Job {
	t.Helper()
	path := filepath.Join(t.TempDir(), name+".yaml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	j, err := job.Load(path)
	require.NoError(t, err)
	return j
}

// What a layout's own search says of it and of the plumb rod, and what current says of each
// of its positions, comes out of the comparison again, to the nine digits of a result.
func TestComparedFiguresAreThoseOfLayoutAndCurrent(t *testing.T) {
	ctx := context.Background()
	stations := 1
	if isLong() {
		stations = 2
	}
	j := jobFile(t, "box", smallBox+fmt.Sprintf("search: {clearance: 18, rods: [8], stations: %d}\naim: {share: 80 %%}\n", stations))
	laid, err := Layout(ctx, j, quiet)
	require.NoError(t, err)
	found := jobFile(t, "layout", string(laid.Layout.YAML(t.TempDir())))
	a, err := Compare(ctx, []*job.Job{found}, true, quiet)
	require.NoError(t, err)
	rows := a.Result.Comparison.Rows
	require.Len(t, rows, 2)
	require.Equal(t, []string{"layout", "plumb rod"}, []string{rows[0].Name, rows[1].Name})

	const digits = 1e-9
	l, naive := laid.Result, laid.Result.Search.Naive
	sameHours(t, l.Hours, rows[0].Hours)
	sameHours(t, naive.Hours, rows[1].Hours)
	assert.InDelta(t, l.Search.ReachableM2, rows[0].ReachableM2, digits)
	assert.Equal(t, rows[0].ReachableM2, rows[1].ReachableM2, "one set for both")
	assert.InDeltaSlice(t, []float64{l.Reached.One, l.Reached.Three, l.Reached.Ten}, []float64{rows[0].Reached.One, rows[0].Reached.Three, rows[0].Reached.Ten}, digits)
	assert.InDeltaSlice(t, []float64{naive.Reached.One, naive.Reached.Three, naive.Reached.Ten}, []float64{rows[1].Reached.One, rows[1].Reached.Three, rows[1].Reached.Ten}, digits)
	assert.InDelta(t, naive.ReachFraction, rows[1].ReachFraction, digits)
	assert.InDelta(t, naive.ClearanceMM, rows[1].WorstMM, 1e-6)
	require.Len(t, found.Stations, len(l.Stations))

	apart := a
	if len(found.Stations) > 1 {
		apart, err = Compare(ctx, []*job.Job{found}, false, quiet)
		require.NoError(t, err)
	}
	for i, s := range found.Stations {
		only := *found
		only.Stations = []job.Station{s}
		c, err := Current(ctx, &only, quiet)
		require.NoError(t, err)
		row := apart.Result.Comparison.Rows[i]
		assert.InDelta(t, c.Result.Cell.CurrentA, row.CurrentA, digits)
		assert.InDelta(t, c.Result.Cell.VoltageV, row.VoltageV, digits)
		assert.InDelta(t, c.Result.Wall.ReachFraction, row.ReachFraction, digits)
		assert.InDelta(t, c.Result.Wall.MeanAM2, row.MeanAM2, digits)
		p := c.Result.Wall.PercentileAM2
		assert.InDeltaSlice(t, []float64{p.P5, p.P50, p.P95}, []float64{row.P5AM2, row.P50AM2, row.P95AM2}, digits)
		assert.InDelta(t, c.Result.Clearance.MinMM, row.MinMM, 1e-6)
		assert.InDelta(t, c.Result.Clearance.RimMM, row.RimMM, 1e-6)
		assert.InDelta(t, c.Result.Clearance.WorstMM, row.WorstMM, 1e-6)
	}
}

func sameHours(t *testing.T, want, got *float64) {
	t.Helper()
	require.Equal(t, want == nil, got == nil)
	if want != nil {
		assert.InEpsilon(t, *want, *got, 1e-9)
	}
}

// leaning is a rod that leans to the front or, mirrored, to the rear of a box whose filler is
// in the middle.
const leaning = `
job: 1
tank:
  shape: {box: {length: 160, width: 120, height: 100, round: 10}}
  openings: [{name: filler, centre: [0, 0, 100], axis: [0, 0, 1], diameter: 56}]
bath: {conductivity: 0.6 S/m%s}
wall: {film: 0.02 ohm m2}
supply: {voltage: 9 V, resistance: 0.3 ohm, limit: 4 A}
anodes: [{diameter: 8, top: [%s, 0, 140], tip: [%s, 0, 40], bare: [[0, 50]]}]
search: {rods: [8], clearance: 15}
`

func leant(t *testing.T, name, level, top, tip string) *job.Job {
	return jobFile(t, name, fmt.Sprintf(leaning, level, top, tip))
}

// Mirror images in a mirrored tank do the same to mirrored wall: the same row, and as much
// wall that each gets more of, on its own side.
func TestMirrorImagesCompareAlike(t *testing.T) {
	front, rear := leant(t, "front", "", "-8", "30"), leant(t, "rear", "", "8", "-30")
	a, err := Compare(context.Background(), []*job.Job{front, rear}, false, quiet)
	require.NoError(t, err)
	c := a.Result.Comparison
	require.True(t, c.SameWall)
	f, r := c.Rows[0], c.Rows[1]
	assert.InEpsilon(t, f.CurrentA, r.CurrentA, 1e-6)
	assert.InDelta(t, f.Reached.Three, r.Reached.Three, 0.01)
	assert.InEpsilon(t, f.P50AM2, r.P50AM2, 1e-3)
	assert.InDelta(t, f.WorstMM, r.WorstMM, 1e-6)
	require.GreaterOrEqual(t, len(c.Differ), 2)
	into, area := map[string]float64{}, map[string]float64{} // of the pieces that each gets more of
	for _, d := range c.Differ {
		into[d.Most] += d.MostAM2 * d.AreaM2
		area[d.Most] += d.AreaM2
		toFront := d.PointMM[0]
		if d.Most == "rear" {
			toFront = -toFront
		}
		assert.Positive(t, toFront, "each brings more on its own side: %+v", d)
	}
	// The borders of the pieces run along facets of up to 2.5 spacings.
	assert.InEpsilon(t, into["front"], into["rear"], 0.05)
	assert.InEpsilon(t, area["front"], area["rear"], 0.05)
	require.Len(t, a.Pictures, 2)
	assert.Equal(t, report.DifferencePicture, a.Pictures[1].Name)
}

// The same job twice differs nowhere; at another level it is said that the wall is not the
// same, and there is no difference to draw.
func TestWhatIsNotTheSameWallIsSaid(t *testing.T) {
	full, again := leant(t, "full", "", "0", "0"), leant(t, "again", "", "0", "0")
	a, err := Compare(context.Background(), []*job.Job{full, again}, false, quiet)
	require.NoError(t, err)
	assert.True(t, a.Result.Comparison.SameWall)
	assert.Empty(t, a.Result.Comparison.Differ)
	assert.Equal(t, a.Result.Comparison.Rows[0].Hours, a.Result.Comparison.Rows[1].Hours)

	low := leant(t, "low", ", level: 80, headspace: to look", "0", "0")
	a, err = Compare(context.Background(), []*job.Job{full, low}, false, quiet)
	require.NoError(t, err)
	assert.False(t, a.Result.Comparison.SameWall)
	assert.Empty(t, a.Result.Comparison.Differ)
	require.Len(t, a.Pictures, 1)
	assert.Greater(t, a.Result.Comparison.Rows[0].WettedM2, a.Result.Comparison.Rows[1].WettedM2)
	assert.Contains(t, a.Result.Warnings[0], "not all of these are the same tank")
	assert.Contains(t, report.Summary(a), "NOT one set for all")
}

// A spout that goes down 30 mm into a box keeps air under the roof.
func TestTanksWithTrappedAirAreCompared(t *testing.T) {
	spout := "  baffles: [{spout: {centre: [30, 0, 100], diameter: 58, length: 30}}]\n"
	j := jobFile(t, "spout", strings.Replace(smallBox, "bath:", spout+"bath:", 1)+"anodes: [{diameter: 8, top: [30, 0, 140], tip: [30, 0, 35], bare: [[0, 30]]}]\nsearch: {rods: [8], clearance: 10}\n")
	a, err := Compare(context.Background(), []*job.Job{j, j}, false, quiet)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(a.Result.Warnings, " "), "air stays trapped at")
}
