package plan

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
)

func parsed(t require.TestingT, text string) *job.Job {
	j, err := job.Parse("x.yaml", []byte(text))
	require.NoError(t, err)
	return j
}

func made(t require.TestingT, text string) *Tank {
	j := parsed(t, text)
	tank, err := NewTank(context.Background(), j, j.First().Attitude)
	require.NoError(t, err)
	return tank
}

const plainBox = `
job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  attitude: {pitch: %g, roll: %g}
  openings: [{name: filler, centre: [0, 0, 150], axis: [0, 0, 1], diameter: 60}]
bath: {level: %s}
anodes: [{diameter: 10, top: [0, 0, 220], tip: [0, 0, 40]}]
`

// 300 x 200 x 100 mm of liquid less a rod of 10 mm diameter with a round tip at 40 mm:
// π 5² · 60 − (π 5² · 5 − 2/3 π 5³) mm³. Wetted: floor and four walls.
func TestBoxByHand(t *testing.T) {
	tank := made(t, fmt.Sprintf(plainBox, 0.0, 0.0, "100"))
	rod := math.Pi*0.005*0.005*0.060 - math.Pi/3*0.005*0.005*0.005
	assert.InDelta(t, 0.3*0.2*0.1-rod, tank.LiquidVolume(tank.Job.Anodes), 1e-12)
	assert.InDelta(t, 0.3*0.2+2*0.1*(0.3+0.2), tank.Filling.Wetted.Area(), 1e-9)
	assert.InDelta(t, 0.3*0.2*0.15, tank.Capacity, 1e-9)
	gaps := tank.Gaps(tank.Job.Anodes)
	assert.InDelta(t, 0.040, gaps.Wet.Distance, 1e-9, "to the floor")
	assert.InDelta(t, 0.025, gaps.All.Distance, 2*rimError, "to the rim")
	assert.Equal(t, gaps.All.Distance, gaps.Worst())
}

// Leaning about the middle of the rim, the brim is that much lower; everything under it is
// liquid, the more the less it leans.
func TestAttitudeLowersTheBrim(t *testing.T) {
	for _, pitch := range []float64{-20, -7.5, 0, 3, 12} {
		tank := made(t, fmt.Sprintf(plainBox, pitch, 0.0, "brim"))
		lean := math.Abs(pitch) * math.Pi / 180
		lowest := -0.150 * math.Sin(lean) // of the floor's corners, against its middle
		want := 0.150*math.Cos(lean) - 0.030*math.Sin(lean) - lowest
		assert.InDelta(t, want, tank.Filling.Height, 1e-9)
		// A wedge of liquid is missing at the high end and none is gained at the low one:
		// the level's plane cuts the roof 30 mm from the middle on the low side.
		missing := 0.2 * math.Tan(lean) * 0.180 * 0.180 / 2
		assert.InDelta(t, 0.3*0.2*0.15-missing, tank.Capacity, 1e-9)
	}
}

// What is measured in the tank's own frame does not change with how it is propped.
func TestProppingKeepsGapsToAllSteel(t *testing.T) {
	level := made(t, fmt.Sprintf(plainBox, 0.0, 0.0, "100"))
	want := level.Gaps(level.Job.Anodes).All
	propped, err := level.Propped(context.Background(), job.Attitude{Pitch: 0.2, Roll: -0.1})
	require.NoError(t, err)
	assert.Equal(t, want, propped.Gaps(level.Job.Anodes).All)
	assert.NotEqual(t, level.Filling.Volume, propped.Filling.Volume)
	assert.Equal(t, propped.Filling, made(t, fmt.Sprintf(plainBox, 0.2*180/math.Pi, -0.1*180/math.Pi, "100")).Filling)
}

// A rod beside a wall: the gap is the axis's distance less the radius, whatever the rod. The
// first was drawn: the points of rod and box that its search holds lie in one plane but for
// rounding.
func TestGapToAPlaneWall(t *testing.T) {
	tank := made(t, fmt.Sprintf(plainBox, 0.0, 0.0, "100"))
	hung := func(t require.TestingT, radius, height float64, flat bool) {
		a := job.Anode{Through: "filler"}
		a.Rod = geometry.Rod{Name: "rod", Radius: radius, Path: geometry.Straight(geometry.V(0, 0, height), geometry.V(0, 0, 0.2)),
			Bare: []geometry.Span{{From: 0, To: 0.030}}, Flat: flat}
		require.NoError(t, tank.Hangs(job.Station{Anodes: []job.Anode{a}}))
		g := tank.Gaps([]job.Anode{a})
		assert.InDelta(t, height, g.Wet.Distance, 1e-9)
		assert.InDelta(t, height, g.Wet.OnRod.Z, 1e-9)
		assert.InDelta(t, 0, g.Wet.OnWall.Z, 1e-9)
	}
	hung(t, 0.007788758259266615, 0.058906276235913956, false)
	rapid.Check(t, func(t *rapid.T) {
		hung(t, rapid.Float64Range(0.002, 0.010).Draw(t, "radius"), rapid.Float64Range(0.002, 0.060).Draw(t, "height of the tip"), rapid.Bool().Draw(t, "flat"))
	})
}

// Files of the format's other units are the same tank.
func TestUnitOfTheSurface(t *testing.T) {
	whole, err := filepath.Abs("../../../../testdata/stl/broken/whole.stl")
	require.NoError(t, err)
	for unit, metres := range map[string]float64{"mm": 0.001, "cm": 0.01, "in": 0.0254} {
		j := parsed(t, fmt.Sprintf("job: 1\ntank: {surface: %q, unit: %s}", whole, unit))
		tank, err := emptyTank(j, job.Attitude{})
		require.NoError(t, err)
		assert.InEpsilon(t, 300*200*150*metres*metres*metres, tank.Whole(), 1e-6, unit)
	}
}

func TestEndedContextIsAnError(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	quiet := func(string, int, int) {}
	j := parsed(t, fmt.Sprintf(plainBox, 0.0, 0.0, "100"))
	_, err := Measure(ctx, j, quiet)
	assert.ErrorIs(t, err, context.Canceled)
	_, err = Clearance(ctx, j, quiet)
	assert.ErrorIs(t, err, context.Canceled)
}

// A sheet that sticks out is trimmed: only what is inside is wall.
func TestBaffleThatSticksOutIsTrimmed(t *testing.T) {
	sheet := filepath.Join(t.TempDir(), "sheet.stl")
	corner := func(y, z int) string { return fmt.Sprintf("vertex 20 %d %d\n", y, z) }
	facet := func(a, b, c string) string {
		return "facet normal 1 0 0\nouter loop\n" + a + b + c + "endloop\nendfacet\n"
	}
	text := "solid sheet\n" + facet(corner(-150, 50), corner(150, 50), corner(150, 190)) +
		facet(corner(-150, 50), corner(150, 190), corner(-150, 190)) + "endsolid sheet\n"
	require.NoError(t, os.WriteFile(sheet, []byte(text), 0o644))
	tank := made(t, fmt.Sprintf(`
job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  baffles: [%q]
  openings: [{name: filler, centre: [-60, 0, 150], axis: [0, 0, 1], diameter: 60}]
bath: {level: 100}`, sheet))
	require.NotEmpty(t, tank.Warnings)
	assert.Contains(t, tank.Warnings[0], "sheet.stl sticks out of the tank: only what is inside counts")
	assert.InDelta(t, 0.3*0.2+2*0.1*(0.3+0.2)+2*0.2*0.05, tank.Filling.Wetted.Area(), 1e-6, "200 x 50 mm of it, both faces")
}

func BenchmarkNewTank(b *testing.B) {
	j, err := job.Load(filepath.Join(casesFolder, "saddle-tilted", "job.yaml"))
	require.NoError(b, err)
	for b.Loop() {
		_, err := NewTank(context.Background(), j, j.First().Attitude)
		require.NoError(b, err)
	}
}
