package plan

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
)

const degree = math.Pi / 180

func attitude(pitch, roll float64) job.Attitude {
	return job.Attitude{Pitch: pitch * degree, Roll: roll * degree}
}

const looseBox = `
job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  sludge: %g
  openings: [{name: filler, centre: [0, 0, 150], axis: [0, 0, 1], diameter: 60}]
bath: {level: 140}
search: {clearance: 20, tolerance: {position: 4, tilt: 3, depth: 5}}
anodes: [{diameter: 10, top: [0, 0, 220], tip: [0, 0, 40], bare: [[0, 60]]%s}]
`

// By hand: over the floor the rod's tip is 40 mm, less 5 mm of slide, less the sludge.
func TestWorstCaseOverAFloorWithSludge(t *testing.T) {
	for sludge, want := range map[float64]float64{0: 0.035, 10: 0.025} {
		tank := made(t, fmt.Sprintf(looseBox, sludge, ""))
		g := tank.Gaps(tank.Job.Anodes)
		assert.InDelta(t, 0.040, g.Wet.Distance, 1e-9, "nominal, whatever lies on the floor")
		assert.InDelta(t, want, g.Worst(), 1e-7)
		assert.InDelta(t, want, g.Off.Attained, 1e-6)
		assert.True(t, g.check(tank.Job.Search.Clearance).Met)
	}
	tank := made(t, fmt.Sprintf(looseBox, 16.0, ""))
	g := tank.Gaps(tank.Job.Anodes)
	assert.False(t, g.check(tank.Job.Search.Clearance).Met, "19 mm left of the 20 asked for")
}

// A guard of 60 mm about a rod of 10 leaves 25 mm whatever the hand does.
func TestGuardKeepsItsDistance(t *testing.T) {
	tank := made(t, fmt.Sprintf(looseBox, 16.0, ", guard: {outside: 59, inside: 52, open: 30 %, hole: 6}"))
	g := tank.Gaps(tank.Job.Anodes)
	assert.InDelta(t, 0.0295-0.005, g.Worst(), 1e-9)
	w := tank.worst(&g, tank.Job.Anodes)
	assert.True(t, w.Held)
	assert.InDelta(t, 19, w.FreeMM, 1e-3)
}

// The table of things agrees with the overall figures, and names what is near.
func TestOneByOneAgreesWithTheWhole(t *testing.T) {
	tank := made(t, fmt.Sprintf(looseBox, 0.0, ", sleeve: 14"))
	g := tank.Gaps(tank.Job.Anodes)
	rows := tank.oneByOne(tank.Job.Anodes)
	byName := map[string]float64{}
	for _, r := range rows {
		byName[r.Part+" to "+r.To] = r.MM
		require.NotNil(t, r.WorstMM, r.To)
		assert.Less(t, *r.WorstMM, r.MM)
	}
	assert.InDelta(t, 1000*g.All.Distance, byName["bare metal to the wall"], 1e-6)
	assert.InDelta(t, math.Hypot(30-5, 150-100), byName["bare metal to the rim of the filler"], 0.01, "the bare stretch ends 50 mm below the rim")
	assert.InDelta(t, 30-7, byName["sleeve or metal to any steel"], 0.02)
}

// A rod that leans by 10 degrees about the rim: what the hand needs to set it.
func TestByHandWords(t *testing.T) {
	tank := made(t, fmt.Sprintf(looseBox, 0.0, ""))
	a := tank.Job.Anodes[0]
	sin, cos := math.Sincos(10 * degree)
	tip := geometry.V(0, 0, 0.150).Add(geometry.V(-sin, 0, -cos).Scale(0.110))
	a.Path = geometry.Straight(tip, tip.Add(geometry.V(sin, 0, cos).Scale(0.170)))
	g := tank.Gaps([]job.Anode{a})
	lines := tank.byHand([]job.Anode{a}, &g)
	assert.Contains(t, lines[0], "tape a mark 110 mm from the tip")
	assert.Contains(t, lines[1], "25 mm to the front, 25 mm to the rear, 25 mm to the left, 25 mm to the right")
	assert.Contains(t, lines[2], "it leans 10.0 degrees from square to the rim, its tip to the rear: 19 mm over the 108 mm below the rim")

	// A collar square to the rod touches the rim 30 mm to the front, 30 sin 10 = 5.2 mm up the rod.
	a.Collar = geometry.Collar{At: 0.115209, Radius: 0.045}
	assert.Contains(t, tank.byHand([]job.Anode{a}, &g)[3], "its collar rests on the rim when 115 mm of it are below, as planned")
	a.Collar.At = 0.120209
	assert.Contains(t, tank.byHand([]job.Anode{a}, &g)[3], "5 mm more than planned")
}

func TestPlacementWords(t *testing.T) {
	hold := geometry.Hold{Along: geometry.V(0, 0, 1), Normal: geometry.V(0, 0, 1)}
	p := geometry.Placement{Turn: geometry.RotationAbout(geometry.V(0, 1, 0), 3*degree), Slide: -0.005, Shift: geometry.V(0, 0.004, 0)}
	assert.Equal(t, "shifted 4.0 mm to the left at the rim, its tip swung 3.0 degrees to the rear, let down 5.0 mm", placementWords(geometry.Sides{}, hold, p))
	assert.Equal(t, "as it is meant to hang", placementWords(geometry.Sides{}, hold, geometry.Nominal()))
}

// The picture and the figures of the command, on a rod whose limit is not met.
func TestClearanceCommandSaysWhatIsNotMet(t *testing.T) {
	quiet := func(string, int, int) {}
	j := parsed(t, fmt.Sprintf(looseBox, 16.0, ""))
	a, err := Clearance(context.Background(), j, quiet)
	require.NoError(t, err)
	assert.True(t, a.Result.Missed())
	assert.InDelta(t, 19, a.Result.Clearance.WorstMM, 1e-3)
	assert.Equal(t, 16.0, a.Result.Clearance.Worst.SludgeMM)
	require.Len(t, a.Pictures, 1)
}
