package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
)

// evenBut returns contenders in a box of 200 x 100 x 100 mm that both bring 5 A/m² but for what
// more says.
func evenBut(t *testing.T, more func(c geometry.Vec) (a, b float64)) *match {
	t.Helper()
	j := jobFile(t, "box", `job: 1
tank:
  shape: {box: {length: 200, width: 100, height: 100}}
  openings: [{name: filler, centre: [0, 0, 100], axis: [0, 0, 1], diameter: 40}]
bath: {conductivity: 0.6 S/m}
supply: {voltage: 9 V}
anodes: [{diameter: 8, top: [0, 0, 140], tip: [0, 0, 40]}]
aim: {least: 1 A/m2, most: 100 A/m2}
`)
	tank, err := emptyTank(j, j.First().Attitude)
	require.NoError(t, err)
	require.NoError(t, tank.fill())
	b, err := tank.NewBasin(5e-3)
	require.NoError(t, err)
	m := &match{}
	for _, name := range []string{"a", "b"} {
		m.contenders = append(m.contenders, &contender{name: name, basin: b, ground: &ground{fine: b}, stations: []job.Station{j.First()}})
	}
	for _, p := range b.Recovery().Patches.All {
		x, y := more(p.Centre)
		m.contenders[0].mean = append(m.contenders[0].mean, 5+x)
		m.contenders[1].mean = append(m.contenders[1].mean, 5+y)
	}
	return m
}

// 30 x 40 mm of the front get ten times as much by the first, 20 x 20 mm of the top four times as
// much by the second. Areas by hand; patches are 4.25 mm across and lie on one side or the other.
func TestPiecesThatDifferMostInABox(t *testing.T) {
	m := evenBut(t, func(c geometry.Vec) (a, b float64) {
		switch {
		case c.X > 0.099 && c.Y < -0.02 && c.Z < 0.04:
			return 45, 0
		case c.Z > 0.099 && c.X < -0.08 && c.Y > 0.03:
			return 0, 15
		}
		return 0, 0
	})
	found := m.differ()
	require.Len(t, found, 2)
	assert.Equal(t, "front", found[0].Side)
	assert.InEpsilon(t, 12e-4, found[0].AreaM2, 0.15)
	assert.Equal(t, []string{"a", "b"}, []string{found[0].Most, found[0].Less})
	assert.InDeltaSlice(t, []float64{50, 5}, found[0].AM2, 1e-9)
	assert.Contains(t, found[0].Place, "100 mm to the front")
	assert.Equal(t, "top", found[1].Side)
	assert.InEpsilon(t, 4e-4, found[1].AreaM2, 0.3)
	assert.Equal(t, []string{"b", "a"}, []string{found[1].Most, found[1].Less})
	assert.InDeltaSlice(t, []float64{5, 20}, found[1].AM2, 1e-9)
}

// Current below the least and above the ceiling changes nothing, and does not count.
func TestOnlyWhatChangesTheWallDiffers(t *testing.T) {
	assert.Empty(t, evenBut(t, func(c geometry.Vec) (a, b float64) {
		if c.X > 0.099 {
			return 105, 600
		}
		return -4.99, -4.1
	}).differ())
	assert.Empty(t, evenBut(t, func(geometry.Vec) (a, b float64) { return 1, 1 }).differ())
}

// A piece that goes round an edge is one and names its sides, the larger first.
func TestAPieceRoundAnEdgeNamesItsSides(t *testing.T) {
	found := evenBut(t, func(c geometry.Vec) (a, b float64) {
		if c.X > 0.099 || c.X < -0.099 || c.Z < 0.001 {
			return 0, 20
		}
		return 0, 0
	}).differ()
	require.Len(t, found, 1)
	assert.Equal(t, "bottom, front and rear", found[0].Side)
}
