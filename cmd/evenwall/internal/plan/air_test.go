package plan

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/bath"
)

// A box of 300 x 200 x 150 mm, filled to the brim, with a plate of 40 mm hung from its roof
// across the middle: the air in front of it cannot get to the filler.
const hungPlate = `
job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  baffles: [{plate: {centre: [20, 0, 130], normal: [1, 0, 0], width: 200, height: 40}}]
  openings: [{name: filler, centre: [-80, 0, 150], axis: [0, 0, 1], diameter: 60}]
bath: {level: brim, conductivity: 0.6 S/m, air: %s}
supply: {voltage: 9 V, dead_voltage: 0 V, limit: 4 A}
anodes: [{diameter: 10, top: [-80, 0, 200], tip: [-80, 0, 40]}]
`

func TestAirBehindAHungPlate(t *testing.T) {
	full, kept := made(t, fmt.Sprintf(hungPlate, "let out")), made(t, fmt.Sprintf(hungPlate, "trapped"))
	require.Len(t, full.Air.Pockets, 1)
	cell := full.Air.raster.Lattice.H
	// 130 x 200 mm of roof, 40 mm deep: 1.04 L, known to half a cell of height
	const base, depth = 0.130 * 0.200, 0.040
	assert.InDelta(t, base*depth, full.Air.Walls[0].Volume, base*cell)
	around := 2 * (0.130 + 0.200) // the plate's face, three walls
	dry := base + around*depth
	assert.InDelta(t, dry, full.Air.Walls[0].Area, around*cell+0.02*dry)

	assert.InDelta(t, full.Filling.Volume-full.Air.Walls[0].Volume, kept.Filling.Volume, 1e-9)
	assert.InDelta(t, full.Filling.Wetted.Area()-full.Air.Walls[0].Area, kept.Filling.Wetted.Area(), 1e-9)
	assert.InDelta(t, full.Filling.Wetted.Area(), kept.Filling.Wetted.Area()+kept.Air.dry.Area(), 1e-9)
}

// The air in a lobe that only a low crossover leads to: cut off at the crossover's top, 55 mm, it is
// 300 x 120 mm times 125 mm, whether the level is at the roof or a hair under it.
func TestAirUnderARoofAHairAboveTheLevel(t *testing.T) {
	for _, level := range []string{"brim", "179.9", "179", "178", "170"} {
		tank := made(t, fmt.Sprintf(`
job: 1
tank:
  shape: {lobes: {lobe: {box: {length: 300, width: 120, height: 180}}, spread: 240, crossover: {x: 0, z: 40, diameter: 30}}}
  openings: [{name: filler, centre: [100, 120, 180], axis: [0, 0, 1], diameter: 45}]
bath: {level: %s, conductivity: 0.6 S/m}
`, level))
		require.Len(t, tank.Air.Pockets, 1, level)
		assert.InEpsilon(t, 0.300*0.120*0.125, tank.Air.Walls[0].Volume, 0.03, level)
	}
}

// With the air in, its wall gets nothing and the rest of the tank is a little less of a load;
// the current of the wall under the pocket, with the air let out, makes gas at Faraday's rate
// until the pocket is full of it.
func TestGasGathersInAPocketAtTheCurrentBelowIt(t *testing.T) {
	solve := func(air string) *Solved {
		tank := made(t, fmt.Sprintf(hungPlate, air))
		b, err := tank.NewBasin(0.006)
		require.NoError(t, err)
		s, err := b.Solve(context.Background(), tank.Job.Anodes)
		require.NoError(t, err)
		return s
	}
	full, kept := solve("let out"), solve("trapped")
	for _, p := range kept.Basin.Recovery().Patches.All {
		off := p.Centre.AddScaled(p.Normal, -1e-3)
		assert.False(t, off.X > 0.020+kept.Basin.Air.raster.Lattice.H && off.Z > 0.110+kept.Basin.Air.raster.Lattice.H, "no patch in the air: %v, %v", p.Centre, p.Normal)
	}
	assert.InEpsilon(t, full.Current, kept.Current, 0.005, "the plate shades what lies behind it")
	pockets := full.intoPockets()
	require.Len(t, pockets, 1)
	assert.Zero(t, pockets[0].Oxygen, "the rod's gas rises in the filler")

	// second route: every patch in front of the plate is below the pocket, none behind it is;
	// a cell to either side of it the raster may say otherwise
	beyond := func(x float64) float64 {
		sum := 0.0
		for i, p := range full.Basin.Recovery().Patches.All {
			if front := p.Centre.AddScaled(p.Normal, -1e-3); front.X > x {
				sum += full.Density[i] * p.Area
			}
		}
		return sum
	}
	cell := full.Basin.Air.raster.Lattice.H
	assert.Less(t, pockets[0].Hydrogen, beyond(0.020-cell))
	assert.Greater(t, pockets[0].Hydrogen, beyond(0.020+cell))

	a, err := full.Basin.currentAnswer("current", full)
	require.NoError(t, err)
	gas := a.Result.Tank.AirPockets[0].Gas
	rate := bath.Evolved(pockets[0].Hydrogen, bath.Kelvin(20), bath.Atmosphere).Hydrogen // m³/s
	assert.InEpsilon(t, full.Basin.Air.Walls[0].Volume/rate/3600, *gas.FullH, 1e-12)
	// 1.04 L of 2 H2 : O2 at 20 degC is 28.8 mmol of H2 at 285.83 kJ/mol
	assert.InDelta(t, full.Basin.Air.Walls[0].Volume*1000*7.92, gas.EnergyKJ, 0.01*gas.EnergyKJ)
}

// Level, the roof of the box less filler is ceiling near level.
func TestCeilingsNearLevelAreSaid(t *testing.T) {
	tank := made(t, fmt.Sprintf(hungPlate, "let out"))
	assert.InDelta(t, 0.3*0.2-0.00282743, tank.blindArea(), 1e-5, "roof less a circle of 60 mm")
	tilted, err := tank.Propped(context.Background(), attitude(16, 0))
	require.NoError(t, err)
	assert.Zero(t, tilted.blindArea())
}

// The best way of propping the tank with the hung plate traps no air and is no worse than
// level in what it wets.
func TestStancesOfAHungPlate(t *testing.T) {
	tank := made(t, fmt.Sprintf(hungPlate, "let out"))
	s, err := tank.stances(context.Background())
	require.NoError(t, err)
	assert.InDelta(t, 1.04, s.Now.TrappedL, 0.15)
	assert.Less(t, s.Best.TrappedL, 0.3)
	assert.Greater(t, s.Best.WettedM2-s.Best.BlindM2/2, s.Now.WettedM2-s.Now.BlindM2/2)
	assert.Contains(t, s.Props, "a block of")
}

// A spout as wide as the filler keeps the air round it under the roof: by hand 300 x 200 mm
// less its circle, 40 mm deep, known to half a cell of height. A plate askew to the cells parts
// them as one square to them does.
func TestAirAroundASpoutAndBehindAnAskewPlate(t *testing.T) {
	spout := made(t, `
job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  baffles: [{spout: {centre: [50, 0, 150], diameter: 60, length: 40}}]
  openings: [{name: filler, centre: [50, 0, 150], axis: [0, 0, 1], diameter: 60}]
`)
	require.Len(t, spout.Air.Pockets, 1)
	base := 0.3*0.2 - math.Pi*0.03*0.03
	assert.InDelta(t, base*0.04, spout.Air.Walls[0].Volume, base*spout.Air.raster.Lattice.H)

	askew := made(t, strings.Replace(fmt.Sprintf(hungPlate, "let out"), "normal: [1, 0, 0], width: 200", "normal: [1, 0.12, 0], width: 204", 1))
	require.Len(t, askew.Air.Pockets, 1)
	const front = 0.130 * 0.200 // the plate turns about its middle
	assert.InDelta(t, front*0.04, askew.Air.Walls[0].Volume, front*askew.Air.raster.Lattice.H)
}
