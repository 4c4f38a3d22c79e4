package plan

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A filler's spout ends in a sharp edge beside the rod, where the wall's current is fitted
// badly at any spacing. The wall elsewhere must not pay for it: its percentiles agree between
// two spacings, and the fit's own sum is off by more than they are.
func TestASpoutDoesNotSpoilTheRestOfTheWall(t *testing.T) {
	tank := made(t, `
job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  baffles: [{spout: {centre: [50, 0, 142], diameter: 60, length: 40}}]
  openings: [{name: filler, centre: [50, 0, 150], axis: [0, 0, 1], diameter: 60}]
bath: {conductivity: 6 mS/cm}
supply: {voltage: 12 V, resistance: 0.3 ohm, limit: 6 A}
anodes: [{diameter: 10, through: filler, top: [50, 0, 190], tip: [50, 0, 40], bare: [[0, 60]]}]
`)
	var found [2]*Solved
	for i, spacing := range []float64{3.5e-3, 5e-3} {
		basin, err := tank.NewBasin(spacing)
		require.NoError(t, err)
		found[i], err = basin.Solve(context.Background(), tank.Job.Anodes)
		require.NoError(t, err)
	}
	fine, coarse := found[0], found[1]
	assert.InEpsilon(t, fine.Current, coarse.Current, 0.01)
	assert.Greater(t, max(fine.Closure, 1/fine.Closure), 1.03)
	for _, q := range []float64{0.05, 0.25, 0.5, 0.75} {
		assert.InEpsilon(t, fine.Even.Percentile(q), coarse.Even.Percentile(q), 0.06, q) // 0.49 when all wall is scaled alike
	}
}

// At the sharp mouth of a pipe between two lobes the fit once gave a sliver of 5 mm² two fifths of all
// current, and the wall elsewhere paid for it: cells past the mouth's edge counted as next to the pipe's
// wall, and Newton's rule left for another root of the law.
func TestASliverAtAPipesMouthDoesNotSpoilTheRestOfTheWall(t *testing.T) {
	tank := made(t, `
job: 1
tank:
  shape: {lobes: {lobe: {box: {length: 320, width: 130, height: 190, round: 25}}, spread: 240, crossover: {x: 0, z: 95, diameter: 80}}}
  openings: [{name: cap, centre: [60, -120, 190], axis: [0, 0, 1], diameter: 45}]
bath: {conductivity: 6 mS/cm}
supply: {voltage: 12 V, resistance: 0.3 ohm, limit: 6 A}
anodes: [{diameter: 12, through: cap, top: [92, -131, 239], tip: [-42, -103, 39], bare: [[0, 148]]}]
`)
	var found [2]*Solved
	for i, spacing := range []float64{3.5e-3, 5e-3} {
		basin, err := tank.NewBasin(spacing)
		require.NoError(t, err)
		found[i], err = basin.Solve(context.Background(), tank.Job.Anodes)
		require.NoError(t, err)
	}
	fine, coarse := found[0], found[1]
	assert.InDelta(t, 1, fine.Closure, 0.03)
	assert.InDelta(t, 1, coarse.Closure, 0.03)
	for _, q := range []float64{0.5, 0.75, 0.95} {
		assert.InEpsilon(t, fine.Even.Percentile(q), coarse.Even.Percentile(q), 0.06, q)
	}
}

// The same where bare metal hangs in a typed neck: one patch beside the neck's lower edge was given
// thousands of A/m², and the sum was off by a seventh to a multiple.
func TestANeckBesideBareMetalCloses(t *testing.T) {
	for _, bare := range []int{60, 105, 125} {
		tank := made(t, fmt.Sprintf(`
job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}, necks: [{centre: [-100, 0, 180], diameter: 60}]}
  openings: [{name: filler, centre: [-100, 0, 180], axis: [0, 0, 1], diameter: 60}]
bath: {conductivity: 0.6 S/m, level: 160}
supply: {voltage: 12 V, resistance: 0.3 ohm, limit: 6 A}
anodes: [{diameter: 10, top: [-100, 0, 230], tip: [-100, 0, 40], bare: [[0, %d]]}]
`, bare))
		basin, err := tank.NewBasin(0)
		require.NoError(t, err)
		s, err := basin.Solve(context.Background(), tank.Job.Anodes)
		require.NoError(t, err)
		assert.InDelta(t, 1, s.Closure, 0.025, "bare up to %d mm", bare)
		for _, j := range s.Density {
			assert.Less(t, j, 500.0) // its own metal gives off 800
		}
	}
}
