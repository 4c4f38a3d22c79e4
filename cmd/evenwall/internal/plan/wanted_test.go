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

// wantedBox returns a box of 140 by 100 by 90 mm in some attitude, laid at 4 mm.
func wantedBox(t *testing.T, attitude, bath, aim string) *Basin {
	t.Helper()
	j, err := job.Parse("box.yaml", []byte(fmt.Sprintf(`job: 1
tank:
  shape: {box: {length: 140, width: 100, height: 90}}
  attitude: %s
  openings: [{name: filler, centre: [30, 0, 90], axis: [0, 0, 1], diameter: 56}]
bath: %s
aim: %s
`, attitude, bath, aim)))
	require.NoError(t, err)
	tank, err := NewTank(context.Background(), j, j.First().Attitude)
	require.NoError(t, err)
	b, err := tank.NewBasin(0.004)
	require.NoError(t, err)
	return b
}

// areaOf returns the area of the patches that count so many times, m².
func (b *Basin) areaOf(weight float64) float64 {
	sum := 0.0
	for i, w := range b.weights() {
		if w == weight {
			sum += b.Recovery().Patches.All[i].Area
		}
	}
	return sum
}

// By hand, filled to the brim: the floor is 140 x 100 mm, the roof the same less the filler, 30 mm
// of the walls, 480 mm round, lie about the waterline at 50 mm, and 60 of the 90 mm do not. Patches
// are up to 6 mm high and belong to the waterline by their middle: +-3 mm at either edge.
func TestWeightsOfABoxByHand(t *testing.T) {
	b := wantedBox(t, "{}", "{level: brim, conductivity: 0.6 S/m}", "{weights: {floor: 2, walls: 5, roof: 3, waterline: 7, at: 50}}")
	assert.InEpsilon(t, 0.140*0.100, b.areaOf(2), 0.01)
	assert.InEpsilon(t, 0.140*0.100-math.Pi*0.028*0.028, b.areaOf(3), 0.02)
	assert.InDelta(t, 0.480*0.030, b.areaOf(7), 0.480*0.006)
	assert.InDelta(t, 0.480*0.060, b.areaOf(5), 0.480*0.006)
	assert.Nil(t, wantedBox(t, "{}", "{level: brim, conductivity: 0.6 S/m}", "{share: 90 %}").weights(), "all alike")
}

// Left out, there is no waterline: with walls at 0 nothing of the walls counts, up to the bath's
// level. Given, it goes before the others, for less too: 30 mm of 480 mm round count 0.5 times.
func TestTheWaterlineCountsOnlyWhereItIsGiven(t *testing.T) {
	b := wantedBox(t, "{}", "{level: 80, conductivity: 0.6 S/m}", "{weights: {walls: 0}}")
	assert.InEpsilon(t, 0.140*0.100, b.areaOf(1), 0.01, "the floor alone")
	b = wantedBox(t, "{}", "{level: 80, conductivity: 0.6 S/m}", "{weights: {walls: 4, waterline: 0.5, at: 40}}")
	assert.InDelta(t, 0.480*0.030, b.areaOf(0.5), 0.480*0.006)
	assert.InDelta(t, 0.480*0.050, b.areaOf(4), 0.480*0.006)
}

// Pitched by 60 degrees, the front wall is the floor, and the box's own floor is steeper than 45
// degrees: a wall. The front is 100 x 90 mm.
func TestFloorIsThatOfTheProppedTank(t *testing.T) {
	b := wantedBox(t, "{pitch: 60}", "{level: 50, conductivity: 0.6 S/m}", "{weights: {floor: 2}}")
	back := b.Turn.Inverse()
	for i, w := range b.weights() {
		if w == 2 {
			assert.InDelta(t, 0.070, back.Apply(b.Recovery().Patches.All[i].Centre).X, 0.002)
		}
	}
	assert.InEpsilon(t, 0.100*0.090, b.areaOf(2), 0.02)
}

// By hand: wall of the floor within 20 mm of a line of 60 mm is 60 x 40 mm and a circle, 3657 mm²;
// patches up to 6 mm across belong to it by their middle: +-3 mm all round, a quarter at most.
func TestSparedWallByHand(t *testing.T) {
	b := wantedBox(t, "{}", "{level: brim, conductivity: 0.6 S/m}", "{share: 90 %}")
	line := []geometry.Vec{geometry.V(-0.03, 0, 0), geometry.V(0, 0, 0), geometry.V(0.03, 0, 0)}
	sum := 0.0
	for _, i := range b.along(&job.Spared{Line: line, Near: 0.02}) {
		sum += b.Recovery().Patches.All[i].Area
	}
	assert.InDelta(t, 0.06*0.04+math.Pi*0.02*0.02, sum, 0.003*(2*0.06+2*math.Pi*0.02))
	assert.Empty(t, b.along(&job.Spared{Line: []geometry.Vec{geometry.V(0, 0, 0.045)}, Near: 0.02}), "amid the liquid")
}
