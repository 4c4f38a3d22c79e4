package plan

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/paper"
	"evenwall/field/search"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// turnable is a box of 300 mm from rear to front and 220 mm across, propped by two blocks,
// with a bent rod; its points, x and y, and its size along x and y are filled in.
const turnable = `job: 1
tank:
  shape: {box: {length: %s, width: %s, height: 180, round: 20}}
  sides: {front: %s}
  prop: [{under: rear, height: 20}, {under: left, height: 8}]
  openings: [{name: filler, centre: "90 from the rear, 90 from the left, 0 down", axis: [0, 0, 1], diameter: 60}]
bath: {level: brim, conductivity: 0.6 S/m}
supply: {voltage: 12 V, limit: 6 A, kind: bench, isolated: yes, fuse: 7.5 A}
search: {clearance: 10, tolerance: {position: 3, tilt: 2, depth: 5}}
anodes: [{diameter: 8, top: [%s, 280], tip: [%s, 40], bend: {corner: [%s, 60], radius: 25}, bare: [[0, 120]], sleeve: 12}]
materials: {vessel: tank, place: bench, tank: steel, coating: none, seams: welded, held: water, emptied: yes, flushed: yes, rod: steel}
negative_at: foot
`

// turned fills in the job with the front at a quarter turn, 0 to 3, from +x.
func turned(t *testing.T, quarters int) *job.Job {
	at := func(p geometry.Vec) string {
		for range quarters {
			p = geometry.V(-p.Y, p.X, 0)
		}
		return fmt.Sprintf("%g, %g", p.X, p.Y)
	}
	sizes := [2]string{"300", "220"}
	front := []string{"+x", "+y", "-x", "-y"}[quarters]
	return parsed(t, fmt.Sprintf(turnable, sizes[quarters%2], sizes[(quarters+1)%2], front,
		at(geometry.V(-50, 30, 0)), at(geometry.V(40, -10, 0)), at(geometry.V(-50, 20, 0))))
}

// A tank turned by a quarter about z, its front with it, has the same words for the hand, in
// clearance and on the pages. Figures may end otherwise: the lattice lies otherwise in it.
func TestATurnedTankHasTheSameWords(t *testing.T) {
	figures := regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	words := func(j *job.Job) []string {
		a, err := Clearance(context.Background(), j, quiet)
		require.NoError(t, err)
		c := a.Result.Clearance
		out := c.ByHand
		for _, in := range c.Insertions {
			out = append(append(out, in.Stop), in.Steps...)
		}
		w := worked(t, j)
		sheet := paper.Sheet{Job: j, Stations: w.stations, Outline: w.tanks[0].outline(j.First().Anodes)}
		for _, text := range sheet.Words() {
			out = append(out, figures.ReplaceAllString(text, "#"))
		}
		return out
	}
	want := words(turned(t, 0))
	all := strings.Join(want, " ")
	for _, said := range []string{
		"the rear # mm higher than the front (#°) and the left # mm higher than the right",
		"13 mm to the front, 33 mm to the rear, 17 mm to the left, 28 mm to the right", // 30 from the middle to the rim along each way, the rod's 6 and how far it is off it: 10 to the front, 5 to the left
		"to the front (it is bent by 77 degrees)",
		"Twelve o'clock is the front, seen from above.",
	} {
		assert.Contains(t, all, said)
	}
	assert.Equal(t, want, words(turned(t, 3)))
}

// What leans to +x leans to the right of a tank whose front is at +y.
func TestOffWordsGoByTheSides(t *testing.T) {
	sides := geometry.FrontAt(geometry.V(0, 1, 0))
	hold := geometry.Hold{Along: geometry.V(0, 0, 1), Normal: geometry.V(0, 0, 1)}
	p := geometry.Placement{Turn: geometry.RotationAbout(geometry.V(0, 1, 0), -3*degree), Shift: geometry.V(0, 0.004, 0)}
	assert.Equal(t, "shifted 4.0 mm to the front at the rim, its tip swung 3.0 degrees to the right", placementWords(sides, hold, p))
	_, words := slipWords(sides, search.Slip{Kind: search.Leaned, Toward: geometry.V(-1, 0, 0), Size: 2 * degree}, 1, hold)
	assert.Equal(t, "2 degrees, the tip toward the left", words)
}

// Room for lowering +x is room for lowering the right of a tank whose front is at +y, which
// lifts its left.
func TestRoomToLeanGoesByTheSides(t *testing.T) {
	room := vessel.Room{PitchUp: 1 * degree, PitchDown: 2 * degree, RollUp: 3 * degree, RollDown: 4 * degree}
	got := roomTo(geometry.Sides{}, room)
	assert.InDeltaSlice(t, []float64{1, 2, 3, 4}, []float64{got.FrontDown, got.FrontUp, got.LeftUp, got.LeftDown}, 1e-9)
	got = roomTo(geometry.FrontAt(geometry.V(0, 1, 0)), room)
	assert.InDeltaSlice(t, []float64{4, 3, 1, 2}, []float64{got.FrontDown, got.FrontUp, got.LeftUp, got.LeftDown}, 1e-9)
}
