package plan

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
)

const spoutedBox = `
job: 1
tank:
  shape: {box: {length: 300, width: 220, height: 180, round: 20}}
  baffles: [{spout: {centre: [-60, 0, 180], diameter: 50, length: %g, restrictor: %g}}]
  openings: [{name: filler, centre: [-60, 0, 180], axis: [0, 0, 1], diameter: 60}]
bath: {level: 150}
anodes:
  - {name: rod, diameter: 8, top: [-60, 0, 280], %s}
`

const (
	plumb = "tip: [-60, 0, 60], bare: [[0, 80]]"
	elbow = "tip: [70, 0, 40], bend: {corner: [-60, 0, 60], radius: 25}, bare: [[0, 160]], sleeve: 12"
)

func insertionOf(t *testing.T, length, restrictor float64, rod string) string {
	tank := made(t, fmt.Sprintf(spoutedBox, length, restrictor, rod))
	e := tank.insertion(&tank.Job.Anodes[0])
	if !e.In {
		return e.Stop
	}
	return strings.Join(e.Steps, "\n")
}

func TestHowAnAnodeGoesIn(t *testing.T) {
	assert.Equal(t, "hold it as it will hang: it stands square to the rim\n"+
		"push it straight in along itself until the mark at 120 mm is level with the rim", insertionOf(t, 30, 0, plumb))
	bent := insertionOf(t, 30, 0, elbow)
	assert.Contains(t, bent, "it is bent by 81 degrees") // atan2(130, 20)
	assert.Contains(t, bent, "letting the rod follow its own bend")
	assert.Contains(t, bent, "to the mark at 244 mm", "legs of 131.5 and 120 mm less what the arc cuts off")
	assert.Contains(t, insertionOf(t, 30, 0, "tip: [40, 0, 60], course: [[0, 0, 60], [-60, 0, 120]], least_bend: 25, bare: [[0, 80]]"), "feed it in from the tip")
}

func TestWhatStopsAnAnode(t *testing.T) {
	for rod, want := range map[string]string{
		plumb + ", spacers: [{at: 20, diameter: 64}]":                                            "it is 4.0 mm wider than the filler, 60.0 mm",
		plumb + ", spacers: [{at: 20, diameter: 40}]":                                            "meets the spout (sheet 1) at",
		plumb + ", collar: {at: 125, diameter: 50}":                                              "its collar, 50.0 mm across, falls through the filler, 60.0 mm",
		plumb + ", collar: {at: 90, diameter: 80}":                                               "its collar sits 90 mm from the tip and rests on the filler at 120 mm, if the rod hangs as planned: move it up",
		"tip: [40, 0, 60], course: [[0, 0, 60], [-60, 0, 120]], least_bend: 60, bare: [[0, 80]]": "its course bends to a radius of",
	} {
		assert.Contains(t, insertionOf(t, 30, 30, rod), want, rod)
	}
}

// A spacer that stands in the wall is an error of the job, as metal that does.
func TestSpacerInTheWall(t *testing.T) {
	tank := made(t, fmt.Sprintf(spoutedBox, 30.0, 0.0, "tip: [-60, 0, 20], bare: [[0, 80]], spacers: [{at: 10, diameter: 40}, {at: 150, diameter: 52}]"))
	err := tank.Hangs(job.Station{Anodes: tank.Job.Anodes})
	assert.ErrorContains(t, err, "has a spacer or guard that goes")
}

// What does not go in is a limit that is not met.
func TestClearanceHoldsTheWayIn(t *testing.T) {
	j := parsed(t, fmt.Sprintf(spoutedBox, 30.0, 0.0, plumb+", spacers: [{at: 20, diameter: 52}]"))
	a, err := Clearance(context.Background(), j, func(string, int, int) {})
	require.NoError(t, err)
	assert.True(t, a.Result.Missed())
	assert.False(t, a.Result.Clearance.Insertions[0].In)
}
