package report

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"image"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
)

var update = flag.Bool("update", false, "write the golden summaries anew")

// The figures are made up; only their form is under test.
func example(command string) *Answer {
	hours := 41.25
	a := &Answer{Result: Result{
		Job: 1, Command: command, Title: "pump house",
		Tank: Tank{VolumeL: 14.612345678901, CapacityL: 15.02, WettedAreaM2: 0.4123,
			AirPockets: []AirPocket{{VolumeL: 0.12, AreaM2: 0.004, TopMM: Point{10, -20, 130}}}},
		Bath:      Bath{0.6, 171.94},
		Clearance: &Clearance{MinMM: 27.04, RimMM: 26.3, WorstMM: 26.3, Anode: "rod", AnodeMM: Point{1, 2, 3}, WallMM: Point{4, 5, 6}},
	}}
	r := &a.Result
	switch command {
	case "measure":
		r.Clearance = nil
		r.Surface = &Surface{Facets: 1200, Shells: 1, OpenEdges: 0, SizeMM: Point{420, 260, 180}, AreaM2: 0.45,
			OpeningsMM: []Ring{{Point{120.04, 0, 190.06}, Point{0.3333333333, 0, 0.94}, 60.02}}}
	case "current":
		exampleField(r)
		r.Warnings = []string{"the wall's least figures move with the lattice: read them as a range"}
	case "layout":
		exampleField(r)
		r.Hours, r.Reached = &hours, &Reached{0.42, 0.9, 0.97}
		r.Stations = []Station{{Name: "first", Hours: hours}}
		r.Search = &Search{Tried: 812, Refused: 230, ReachableM2: 0.39, Naive: &Judged{Reached: Reached{0.2, 0.5, 0.8}, ClearanceMM: 30}}
		rod := job.Anode{Through: "filler"}
		rod.Name, rod.Radius = "rod", 0.005
		rod.Path = geometry.Straight(geometry.V(0.12, 0, 0.04), geometry.V(0.12, 0, 0.23))
		rod.Bare = []geometry.Span{{From: 0, To: 0.09}}
		a.Layout = &job.Job{Stations: []job.Station{{Name: "first", Duration: hours * 3600, Anodes: []job.Anode{rod}}}}
	case "clearance":
		r.Checks = []Check{{"least clearance", 26.3, 30, "mm", false}}
	}
	return a
}

func exampleField(r *Result) {
	r.Cell = &Cell{3.4219, 10.973, 2.62, "voltage", []Anode{{"rod", 3.4219, 412.2}}}
	r.Wall = &Wall{MeanAM2: 8.31, PercentileAM2: Percentiles{0.2, 0.5, 2, 5, 9, 30, 70},
		AreaFractionBelow: Below{0.03, 0.1, 0.3}, ReachFraction: 0.912, FluxClosure: 0.997}
	r.Solver = &Solver{3, 480123, 12, 3e-9, 0.41}
}

func TestSummariesAsTheyWereReadAndLiked(t *testing.T) {
	for _, command := range []string{"measure", "current", "layout", "clearance"} {
		golden := filepath.Join("testdata", command+".txt")
		got := Summary(example(command))
		if *update {
			require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		assert.Equal(t, string(want), got, command)
	}
}

// The key names and their order are the file format; the list is its own source.
func TestResultHasTheKeysOfTheFormat(t *testing.T) {
	text, err := example("current").Result.JSON()
	require.NoError(t, err)
	at := 0
	for _, key := range []string{"job", "command", "title", "tank", "volume_l", "capacity_l", "wetted_area_m2", "air_pockets",
		"volume_l", "area_m2", "top_mm", "bath", "conductivity_s_m", "level_mm", "cell", "current_a", "voltage_v",
		"resistance_ohm", "limited_by", "anodes", "name", "current_a", "most_a_m2", "wall", "mean_a_m2", "percentile_a_m2",
		"1", "5", "25", "50", "75", "95", "99", "area_fraction_below", "0.1", "0.25", "0.5", "reach_fraction", "flux_closure",
		"clearance", "min_mm", "rim_mm", "worst_mm", "anode", "anode_mm", "wall_mm", "solver", "spacing_mm", "unknowns",
		"iterations", "residual", "seconds", "warnings"} {
		next := strings.Index(string(text[at:]), `"`+key+`":`)
		require.GreaterOrEqual(t, next, 0, key)
		at += next + len(key)
	}
	var back Result
	require.NoError(t, json.Unmarshal(text, &back))
	assert.InEpsilon(t, 14.612345678901, back.Tank.VolumeL, 1e-8)
	assert.Contains(t, string(text), "14.6123457", "nine digits")
}

func TestLayoutHasHoursAndShares(t *testing.T) {
	text, err := example("layout").Result.JSON()
	require.NoError(t, err)
	for _, part := range []string{`"stations": [`, `"hours": 41.25`, `"hours_total": 41.25`, `"reached_fraction_after_days": {`, `"10": 0.97`} {
		assert.Contains(t, string(text), part)
	}
}

func TestNoFileHoldsWhatIsNoNumber(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		a := example("current")
		a.Result.Cell.Anodes[0].MostAM2 = x
		_, err := a.Result.JSON()
		assert.ErrorContains(t, err, "cell.anodes[0].most_a_m2")
		_, err = WallCSV([]Patch{{Density: 1}, {Density: x}})
		assert.ErrorContains(t, err, "row 2")
	}
}

func TestEmptyListsAreListsNotNull(t *testing.T) {
	text, err := (&Result{}).JSON()
	require.NoError(t, err)
	assert.NotContains(t, string(text), "null")
}

func TestWallRowsReadBack(t *testing.T) {
	text, err := WallCSV([]Patch{{geometry.V(0.1, -0.2, 0.3), geometry.V(0, 0, 1), 2.5e-6, 12.25}})
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, []string{"x_mm", "y_mm", "z_mm", "nx", "ny", "nz", "area_mm2", "j_a_m2"}, rows[0])
	for i, want := range []float64{100, -200, 300, 0, 0, 1, 2.5, 12.25} {
		got, err := strconv.ParseFloat(rows[1][i], 64)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 1e-9)
	}
}

func TestFiguresHaveThreeDigits(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 3.4219: "3.42", 34.219: "34.2", 342.19: "342", 3421.9: "3420", 0.034219: "0.0342",
		9.999: "10.0", -0.5: "-0.500", 1e7: "1.00e+07", 1e-5: "1.00e-05",
	} {
		assert.Equal(t, want, figure(x))
	}
}

func TestWriteAllPutsResultLastAndWhole(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	f, err := Prepare(dir, "")
	require.NoError(t, err)
	a := example("layout")
	a.Wall = []Patch{{Area: 1}}
	a.Pictures = []Picture{{"wall.png", image.NewGray(image.Rect(0, 0, 2, 2))}}
	require.NoError(t, f.WriteAll(context.Background(), a))
	assert.ElementsMatch(t, []string{"layout.yaml", "result.json", "wall.csv", "wall.png"}, names(t, dir))
	files, err := a.files(dir)
	require.NoError(t, err)
	assert.Equal(t, ResultFile, files[len(files)-1].name)
}

func TestInterruptedWritesNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	f, err := Prepare(dir, "")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	assert.ErrorIs(t, f.WriteAll(ctx, example("layout")), context.Canceled)
	assert.Empty(t, names(t, dir))
	f.Discard()
	assert.NoDirExists(t, dir)
}

func TestPrepareRemovesOnlyItsOwn(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"result.json", "wall.png", "notes.txt", "holiday.png", "layout.yaml", "section.png"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o644))
	}
	f, err := Prepare(dir, filepath.Join(dir, "layout.yaml"), filepath.Join(dir, "section.png")) // two jobs, whatever they are called
	require.NoError(t, err)
	assert.ElementsMatch(t, []string{"notes.txt", "holiday.png", "layout.yaml", "section.png"}, names(t, dir))
	assert.ErrorContains(t, f.Write("layout.yaml", nil), "a job at work")
	assert.ErrorContains(t, f.Write("section.png", nil), "a job at work")
	assert.ErrorContains(t, f.Write("notes.txt", nil), "no file of this program's own")
	f.Discard()
	assert.DirExists(t, dir, "it was there before")
}

func TestFolderThatIsAFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(path, nil, 0o644))
	_, err := Prepare(path, "")
	var failed *WriteError
	require.ErrorAs(t, err, &failed)
	assert.ErrorContains(t, err, "give another folder with -o")
}

func TestBesideJob(t *testing.T) {
	assert.Equal(t, "a/sprayer", BesideJob("a/sprayer.yaml"))
	assert.Equal(t, "sprayer.out", BesideJob("sprayer"))
}

func names(t *testing.T, dir string) []string {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}
