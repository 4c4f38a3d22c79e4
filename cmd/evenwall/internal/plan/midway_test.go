package plan

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
)

// A rod midway between two planes is the evenest, and the farther from there the less even; what goes
// to each of the two is as the exact field has it.
//
// A box 120 mm wide stands for the planes, primary. What is looked at is 100 mm of height under the
// liquid's surface, which is a mirror, 240 mm above the rod's tip and 140 mm from the end walls at
// least: what these change falls by exp(-pi x/120 mm), to 3 %, and alike on both sides.
func TestMidwayIsTheEvenestForTwoPlanes(t *testing.T) {
	const a = 0.060
	ctx := context.Background()
	shares, ratios := map[float64]float64{}, []float64{}
	for _, y := range []float64{0, 10, 25} {
		j, err := job.Parse("planes.yaml", []byte(fmt.Sprintf(`job: 1
tank:
  shape: {box: {length: 400, width: 120, height: 420}}
  openings: [{name: filler, centre: [0, 0, 420], axis: [0, 0, 1], diameter: 100}]
bath: {level: 400, conductivity: 0.6 S/m}
wall: {film: 0 ohm m2}
supply: {voltage: 12 V, dead_voltage: 2 V}
anodes: [{diameter: 8, top: [0, %g, 480], tip: [0, %g, 60]}]
`, y, y)))
		require.NoError(t, err)
		tank, err := NewTank(ctx, j, j.First().Attitude)
		require.NoError(t, err)
		b, err := tank.NewBasin(0.005)
		require.NoError(t, err)
		s, err := b.Solve(ctx, j.First().Anodes)
		require.NoError(t, err)
		var to [2]float64 // A, to the plane at y = -a and to that at y = a
		least, most := math.Inf(1), 0.0
		for i, p := range b.Recovery().Patches.All {
			if p.Centre.Z < 0.3 || math.Abs(p.Centre.X) > 0.06 || math.Abs(p.Normal.Y) < 0.99 {
				continue
			}
			side := 0
			if p.Centre.Y > 0 {
				side = 1
			}
			to[side] += s.Density[i] * p.Area
			least, most = min(least, s.Density[i]), max(most, s.Density[i])
		}
		shares[y] = to[1] / (to[0] + to[1])
		ratios = append(ratios, most/least)
	}
	t.Log(shares, ratios)
	for y, share := range shares {
		assert.InDelta(t, planesShare(y/1000, a, 0.06), share, 0.005, "%g mm off midway", y)
	}
	assert.IsIncreasing(t, ratios, "most over least current density on the two")
}

// planesShare is the share of the plane at a of what a thin rod at y sends to both planes within w
// either way of it: each plane's current density is sin(v)/(cosh(u) -+ cos(v)) up to a factor, u = pi x/2a,
// v = pi (a + y)/2a (method of images), summed by Simpson's rule.
func planesShare(y, a, w float64) float64 {
	v, n := math.Pi*(a+y)/(2*a), 200
	var to [2]float64
	for i := range n + 1 {
		weight := float64(2 + 2*(i%2))
		if i == 0 || i == n {
			weight = 1
		}
		u := math.Pi * w * float64(i) / float64(n) / (2 * a)
		to[0] += weight / (math.Cosh(u) - math.Cos(v))
		to[1] += weight / (math.Cosh(u) + math.Cos(v))
	}
	return to[1] / (to[0] + to[1])
}
