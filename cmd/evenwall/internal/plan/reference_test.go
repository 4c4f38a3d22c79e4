package plan

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/stlfile"
	"evenwall/geometry/vessel"
)

const casesFolder = "../../../../testdata/cases"

// reference holds the figures of a reference tank, see the file's own field "method":
// second-order finite elements by general-purpose programs.
type reference struct {
	Electrolyte float64 `json:"electrolyte_l"`
	Enclosed    float64 `json:"enclosed_l"`
	WettedArea  float64 `json:"wetted_area_m2"`
	Clearance   float64 `json:"clearance_mm"`
}

func referenceTank(t *testing.T, name string) (*Tank, reference) {
	j, err := job.Load(filepath.Join(casesFolder, name, "job.yaml"))
	require.NoError(t, err)
	text, err := os.ReadFile(filepath.Join(casesFolder, name, "reference.json"))
	require.NoError(t, err)
	var want reference
	require.NoError(t, json.Unmarshal(text, &want))
	tank, err := NewTank(context.Background(), j, j.First().Attitude)
	require.NoError(t, err)
	return tank, want
}

func TestReferenceTanks(t *testing.T) {
	for _, name := range []string{"saddle-tilted", "drum-sleeved", "box-baffle"} {
		tank, want := referenceTank(t, name)
		s := tank.Job.First()
		require.NoError(t, tank.Hangs(s), name)
		assert.InEpsilon(t, want.Electrolyte, litres(tank.LiquidVolume(s.Anodes)), 0.005, name)
		assert.InEpsilon(t, want.Enclosed, litres(tank.Whole()), 0.005, name)
		assert.InEpsilon(t, want.WettedArea, tank.Filling.Wetted.Area(), 0.005, name)
		gaps := tank.Gaps(s.Anodes)
		assert.InDelta(t, want.Clearance, 1000*gaps.Wet.Distance, 0.1, name)

		volume, area := facetFigures(tank)
		assert.InEpsilon(t, volume, tank.Filling.Volume, 0.001, name)
		assert.InEpsilon(t, area, tank.Filling.Wetted.Area(), 0.001, name)
	}
}

// facetFigures takes volume and wetted area from the facets by another way: everything is
// cut at the level and seen from a point in it, so that the level's own face adds nothing.
func facetFigures(t *Tank) (volume, area float64) {
	surface := t.Filling.Surface
	seen := t.Lowest.AddScaled(t.Up, t.Filling.Height)
	shell, _ := t.Shell.Below(surface, geometry.Slack{})
	for i := range shell.Faces {
		f := shell.Triangle(i)
		volume += f.A.Sub(seen).Dot(f.B.Sub(seen).Cross(f.C.Sub(seen))) / 6
	}
	wall, source := t.Wall.Mesh.Below(surface, geometry.Slack{Facet: vessel.Skim})
	for i, from := range source {
		area += wall.Triangle(i).Area() * float64(t.Wall.Kind[from].Faces().Count())
	}
	return volume, area
}

// The far side of the baffle is a closed roof over a hole whose top is at z = 150 mm: air
// stays down to there, in 180 x 250 mm up to the roof at 200 mm. By hand, with a cell of the
// raster for the height at which it is cut off.
func TestBaffleTrapsAir(t *testing.T) {
	tank, _ := referenceTank(t, "box-baffle")
	require.Len(t, tank.Air.Pockets, 1)
	assert.Equal(t, vessel.Trapped, tank.Air.Pockets[0].Cause)
	cell := cellSize(tank.Vessel, rasterCells, mostRasterCells)
	wall := tank.Air.Walls[0]
	assert.InDelta(t, 0.180*0.250*0.050, wall.Volume, 0.180*0.250*cell)
	assert.InDelta(t, 2*(0.180+0.250)*0.030, wall.Area, 2*(0.180+0.250)*cell)
	require.Len(t, tank.Warnings, 1)
	assert.Contains(t, tank.Warnings[0], "air stays trapped at right top")
}

// The rim of the reference saddle is drawn by its mesh, that of the box is not.
func TestRodInTheMiddleOfItsOpening(t *testing.T) {
	for name, middle := range map[string]geometry.Vec{"saddle-tilted": geometry.V(-0.060, 0.012, 0.190), "box-baffle": geometry.V(0.100, 0.140, 0.200)} {
		tank, _ := referenceTank(t, name)
		for _, radius := range []float64{0.004, 0.005, 0.012} {
			a := job.Anode{Through: "filler"}
			a.Rod = geometry.Rod{Name: "rod", Radius: radius, Bare: []geometry.Span{{From: 0, To: 0.13}},
				Path: geometry.Straight(middle.Add(geometry.V(0, 0, -0.08)), middle.Add(geometry.V(0, 0, 0.05)))}
			require.NoError(t, tank.Hangs(job.Station{Anodes: []job.Anode{a}}))
			gaps := tank.Gaps([]job.Anode{a})
			assert.InDelta(t, 0.030-radius, gaps.All.Distance, 2*rimError, name)
		}
	}
}

// The saddle with its filler cut open, one facet in a hundred lost, one in fifty turned
// over and one in fifty there twice, written as a file and read again.
func TestRoughSurface(t *testing.T) {
	sound, want := referenceTank(t, "saddle-tilted")
	middle := geometry.V(-0.060, 0.012, 0.190)
	var rough geometry.Mesh
	rough.Vertices = sound.Shell.Vertices
	for i, f := range sound.Shell.Faces {
		switch {
		case sound.Shell.Triangle(i).Centroid().Dist(middle) < 0.029, i%100 == 3:
			continue
		case i%50 == 7:
			f[1], f[2] = f[2], f[1]
		case i%50 == 23:
			rough.Faces = append(rough.Faces, f)
		}
		rough.Faces = append(rough.Faces, f)
	}
	path := filepath.Join(t.TempDir(), "rough.stl")
	file, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, stlfile.Write(file, &rough, stlfile.Millimetre, "rough"))
	require.NoError(t, file.Close())

	j := *sound.Job
	j.Tank.Surface = path
	tank, err := NewTank(context.Background(), &j, job.Attitude{})
	require.NoError(t, err)
	require.NoError(t, tank.Hangs(j.First()))
	assert.InEpsilon(t, want.Electrolyte, litres(tank.LiquidVolume(j.Anodes)), 0.005)
	assert.InEpsilon(t, want.WettedArea, tank.Filling.Wetted.Area(), 0.015, "a hundredth of it is lost")
	assert.InDelta(t, want.Clearance, 1000*tank.Gaps(j.Anodes).Wet.Distance, 0.1)
	assert.Empty(t, tank.Air.Pockets)
	require.Len(t, tank.Warnings, 1)
	assert.Contains(t, tank.Warnings[0], "rough.stl is rough")
	require.NotEmpty(t, tank.surface().OpeningsMM)
	assert.InDelta(t, 60, tank.surface().OpeningsMM[0].DiameterMM, 2, "facets of up to 4 mm at its edge")
}

// The baffle stands at x = 220 mm; its hole of 40 mm is at y = 80, z = 130 mm.
func TestRodThroughTheBaffle(t *testing.T) {
	tank, _ := referenceTank(t, "box-baffle")
	a := tank.Job.Anodes[0]
	a.Path = geometry.Straight(geometry.V(0.300, 0.140, 0.100), geometry.V(0.075, 0.140, 0.2125))
	err := tank.Hangs(job.Station{Anodes: []job.Anode{a}})
	assert.ErrorContains(t, err, `rod "rod" goes through the baffle at [220.0, 140.0, 140.0] mm`)
}
