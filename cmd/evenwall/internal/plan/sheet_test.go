package plan

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/paper"
	"evenwall/cmd/evenwall/internal/report"
)

// benchJob is a box of 1.5 L with a rod down its middle, with the given bath and supply.
func benchJob(t *testing.T, bath, supply string) *job.Job {
	t.Helper()
	return boxJob(t, "length: 150, width: 100, height: 100", "wall: {film: 0.01 ohm m2}", bath, supply)
}

// boxJob is a box with a rod down its middle and the given size, wall, bath and supply.
func boxJob(t *testing.T, size, wall, bath, supply string) *job.Job {
	t.Helper()
	j, err := job.Parse("box.yaml", []byte(fmt.Sprintf(`job: 1
tank:
  shape: {box: {%s}}
  openings: [{name: filler, centre: [0, 0, %s], axis: [0, 0, 1], diameter: 60}]
%s
bath: %s
supply: %s
anodes: [{diameter: 12, through: filler, top: [0, 0, 200], tip: [0, 0, 35], bare: [[0, 60]]}]
aim: {least: 0.3 A/m2}
materials: {vessel: tank, place: bench, tank: steel, coating: none, seams: welded, held: water, emptied: yes, flushed: yes, rod: steel}
negative_at: foot
`, size, size[strings.LastIndex(size, " ")+1:], wall, bath, supply)))
	require.NoError(t, err)
	return j
}

func quiet(string, int, int) {}

func worked(t *testing.T, j *job.Job) *work {
	t.Helper()
	w, err := newWork(context.Background(), j, quiet)
	require.NoError(t, err)
	return w
}

// The worked whole: a plain 12 V charger on about 15 L and 0.4 m², soda as people put it in:
// a few amps (common practice, no source).
func TestAPlainChargerOnATankOfFifteenLitres(t *testing.T) {
	j := boxJob(t, "length: 385, width: 260, height: 150", "", "{soda: {form: anhydrous, dose: 5 g/L}}", "{label: 12 V 6 A, kind: plain, isolated: yes}")
	a, err := Sheet(context.Background(), j, paper.Style{}, quiet)
	require.NoError(t, err)
	r := a.Result
	assert.InDelta(t, 15.0, r.Tank.VolumeL, 0.1)
	assert.InDelta(t, 0.39, r.Tank.WettedAreaM2, 0.03)
	assert.InDelta(t, 75, r.Bench.SodaG[1], 0.5, "5 g/L of 15.0 L")
	settled := r.Bench.Stations[0].SettledA
	assert.Greater(t, settled[0], 1.0)
	assert.Less(t, settled[2], 6.0)
	assert.InEpsilon(t, r.Cell.CurrentA, settled[1], 1e-6, "the middle is the field's own")
	require.Len(t, a.Papers, 1)
	assert.Equal(t, report.SheetFile, a.Papers[0].Name)
	assert.False(t, r.Missed())
}

// The first volts and amps give back the conductivity that made them, whatever the recipe says.
func TestFirstReadingWinsOverTheRecipe(t *testing.T) {
	const supply = "{voltage: 12 V, kind: bench, isolated: yes}"
	true47 := worked(t, benchJob(t, "{conductivity: 0.47 S/m}", supply))
	s := true47.stations[0]
	reading := fmt.Sprintf("{soda: {form: anhydrous, dose: 8 g/L}, first_reading: {volts: %.6f V, amps: %.6f A}}", s.Dead+s.Across, s.Amps)
	w := worked(t, benchJob(t, reading, supply))
	assert.InEpsilon(t, 0.47, w.job.Bath.Conductivity, 2e-3)
	assert.InEpsilon(t, s.Amps, w.stations[0].Amps, 2e-3)
	assert.Contains(t, fmt.Sprint(w.warnings), "bath.first_reading is taken")
	_, err := newWork(context.Background(), benchJob(t, "{first_reading: {volts: 1.5 V, amps: 2 A}}", supply), quiet)
	assert.ErrorContains(t, err, "look for a dry joint")
}

// With a lamp in series the field is solved at the current that settles: the circuit's own
// answer for the cell as solved is that current.
func TestALampCountsAtTheCurrentThatSettles(t *testing.T) {
	bath := "{conductivity: 0.6 S/m}"
	without := worked(t, benchJob(t, bath, "{voltage: 14 V, kind: bench, isolated: yes}"))
	j := benchJob(t, bath, "{voltage: 14 V, kind: bench, isolated: yes, lamp: {volts: 12 V, watts: 21 W}}")
	with := worked(t, j)
	assert.Less(t, with.stations[0].Amps, 0.95*without.stations[0].Amps)
	assert.InEpsilon(t, with.stations[0].Settled(j).Amps.Mid, with.stations[0].Amps, 0.01)
}

// By hand: 150 x 100 mm, 30 mm of it above the level.
func TestHeadspaceByHand(t *testing.T) {
	j := benchJob(t, "{conductivity: 0.6 S/m, level: 30 mm below rim}", "{voltage: 12 V, limit: 3 A, kind: bench, isolated: yes}")
	w := worked(t, j)
	assert.InEpsilon(t, 0.15*0.10*0.03, w.stations[0].Headspace, 1e-6)
	a, err := Sheet(context.Background(), j, paper.Style{}, quiet)
	require.NoError(t, err)
	assert.True(t, a.Result.Missed())
	assert.Empty(t, a.Papers, "no pages when a limit is not met")
}

// The liquid's own resistance is less than with the electrode laws, by no more than these
// lose at that current.
func TestLiquidAndLawsShareTheVolts(t *testing.T) {
	w := worked(t, boxJob(t, "length: 150, width: 100, height: 100", "", "{conductivity: 0.6 S/m}", "{voltage: 12 V, kind: bench, isolated: yes}"))
	s := w.stations[0]
	laws := s.Across - s.Amps*s.Liquid
	assert.Greater(t, laws, 0.1)
	assert.Less(t, laws, 0.42, "the default wall at 100 A/m²")
}

func TestWhatIsRefusedIsAFaultOfTheJob(t *testing.T) {
	j := benchJob(t, "{conductivity: 0.6 S/m}", "{voltage: 12 V, kind: bench, isolated: no}")
	j.Materials.Rod = job.Stainless
	_, err := newWork(context.Background(), j, quiet)
	assert.ErrorContains(t, err, "supply.isolated: refused: ")
	assert.ErrorContains(t, err, "materials.rod: refused: ")
	assert.Equal(t, "day 2, 01:05", clockOf(25*3600+5*60))
	assert.Equal(t, "23:59", clockOf(24*3600-1))
	assert.NotEmpty(t, bench.Refusals(j))
}
