package job

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/geometry/shape"
)

// A box of 300 x 200 x 150 mm has its front at x = 150, its left at y = 100, its top at z = 150.
const boxJob = `job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  openings:
    - {name: filler, centre: "%s", axis: [0, 0, 1], diameter: 60}
`

func TestPlacesByTape(t *testing.T) {
	for text, want := range map[string]geometry.Vec{
		"210 from the front, 95 from the left, 40 up":       geometry.V(-0.060, 0.005, 0.040),
		"40 up, 95 from left, 90 from the rear":             geometry.V(-0.060, 0.005, 0.040),
		"0 down, 100 from the right, 15 cm from the front":  geometry.V(0, 0, 0.150),
		"2 in from the top, 0 from the left, 0 from front":  geometry.V(0.150, 0.100, 0.150-0.0508),
		"1.5 in from the bottom, -5 from left, 1 from rear": geometry.V(-0.149, 0.105, 0.0381),
	} {
		j, err := Parse("x.yaml", fmt.Appendf(nil, boxJob, text))
		require.NoError(t, err, text)
		assert.InDelta(t, 0, j.Tank.Openings[0].Centre.Dist(want), 1e-12, text)
	}
}

func TestPlacesByTapeThatAreNone(t *testing.T) {
	for text, want := range map[string]string{
		"210 from the front, 40 up":                           "x.yaml:5: tank.openings[0].centre: \"210 from the front, 40 up\" does not say how far it is from the left or the right",
		"210 from the front, 95 from the rear, 1 up":          "says twice how far it is rear to front",
		"210 from the nose, 95 from the left, 1 up":           "is no point and no place by tape: give [x, y, z]",
		"wide from the front, 95 from the left, 1 up":         "\"wide\" is not a finite length",
		"210 furlongs from the front, 95 from the left, 1 up": "is no unit of a length",
	} {
		_, err := Parse("x.yaml", fmt.Appendf(nil, boxJob, text))
		require.ErrorContains(t, err, want, text)
	}
}

// A tank of 300 mm along x and 200 mm along y whose front is at -y: its left is at +x. Lifting
// the rear lifts +y, which is roll above 0; lifting the left lifts +x, pitch below 0.
func TestSidesTurnPlacesAndProps(t *testing.T) {
	const text = `job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  sides: {front: -y}
  prop: [{under: rear, height: 20}, {under: left, height: 60}]
  openings: [{name: filler, centre: "40 from the front, 30 from the left, 0 down", axis: [0, 0, 1], diameter: 40, twelve: right}]
`
	j, err := Parse("x.yaml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, geometry.FrontAt(geometry.V(0, -1, 0)), j.Tank.Sides)
	assert.InDelta(t, 0, j.Tank.Openings[0].Centre.Dist(geometry.V(0.120, -0.060, 0.150)), 1e-12)
	assert.Equal(t, geometry.V(-1, 0, 0), j.Tank.Openings[0].Twelve)
	a := j.Tank.Attitude
	assert.InDelta(t, math.Asin(0.1), a.Roll, 1e-12)
	assert.InDelta(t, 0.060, a.Rotation().Apply(geometry.V(0.300, 0, 0)).Z, 1e-12, "what stands under the left lifts +x")
	back := a.Props(geometry.Box{Max: geometry.V(0.3, 0.2, 0.15)}, j.Tank.Sides)
	require.Len(t, back, 2)
	assert.Equal(t, "rear", back[0].Under)
	assert.InDelta(t, 0.020, back[0].Height, 1e-12)
	assert.Equal(t, "left", back[1].Under)
	assert.InDelta(t, 0.060, back[1].Height, 1e-12)
}

func TestSidesThatAreNone(t *testing.T) {
	for keys, want := range map[string]string{
		"sides: {front: up}":           "x.yaml:4: tank.sides.front: \"up\" is none of +x, +y, -x, -y",
		"sides: {left: +y}":            "tank.sides.front: is missing: give the way the front points: +x, +y, -x or -y",
		"sides: {front: -y, left: +x}": "x.yaml:4: tank.sides.left: unknown key; the nearest is front",
		"openings: [{name: side, centre: [0, 100, 75], axis: [0, 1, 0], diameter: 30, twelve: left}]":  "x.yaml:4: tank.openings[0].twelve: the opening itself looks that way",
		"openings: [{name: side, centre: [0, 100, 75], axis: [0, 1, 0], diameter: 30, twelve: north}]": "\"north\" is none of front, rear, left, right, top, bottom",
	} {
		_, err := Parse("x.yaml", []byte("job: 1\ntank:\n  shape: {box: {length: 300, width: 200, height: 150}}\n  "+keys))
		require.ErrorContains(t, err, want, keys)
	}
}

// A block of 60 mm under the rear of a tank of 300 mm: sin = 60 / 300, front down.
func TestPropsAreAttitudes(t *testing.T) {
	const text = `job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  prop: %s
`
	for prop, want := range map[string]Attitude{
		"{under: rear, height: 60}":               {Pitch: math.Asin(0.2)},
		"{under: front, height: 60}":              {Pitch: -math.Asin(0.2)},
		"{under: left, height: 20}":               {Roll: math.Asin(0.1)},
		"{under: right, height: 20, across: 100}": {Roll: -math.Asin(0.2)},
		"[{under: rear, height: 30}, {under: left, height: 40}]": {
			Pitch: math.Asin(0.1 / math.Cos(math.Asin(0.2))), Roll: math.Asin(0.2)},
	} {
		j, err := Parse("x.yaml", fmt.Appendf(nil, text, prop))
		require.NoError(t, err, prop)
		assert.InDelta(t, want.Pitch, j.Tank.Attitude.Pitch, 1e-12, prop)
		assert.InDelta(t, want.Roll, j.Tank.Attitude.Roll, 1e-12, prop)
	}
	for prop, want := range map[string]string{
		"{under: rear, height: 400}":                            "does not go under a tank that stands 300 mm away",
		"{under: middle, height: 40}":                           "\"middle\" is none of rear, front, left, right",
		"[{under: rear, height: 9}, {under: front, height: 9}]": "is a second block the same way",
		"{under: rear, height: 9}\n  attitude: {pitch: 2}":      "stands beside attitude",
		"{height: 9}": "tank.prop.under: is missing",
	} {
		_, err := Parse("x.yaml", fmt.Appendf(nil, text, prop))
		require.ErrorContains(t, err, want, prop)
	}
}

// The corners over the blocks stand as high as the blocks, and the blocks of an attitude
// give that attitude.
func TestPropsRaiseTheEdgeByTheirHeight(t *testing.T) {
	box := geometry.Box{Max: geometry.V(0.4, 0.25, 0.2)}
	rapid.Check(t, func(t *rapid.T) {
		along, across := rapid.Float64Range(-0.15, 0.15).Draw(t, "along"), rapid.Float64Range(-0.1, 0.1).Draw(t, "across")
		var props []Prop
		for _, p := range []Prop{{"rear", along, 0.4}, {"left", across, 0.25}} {
			if opposite := map[string]string{"rear": "front", "left": "right"}; p.Height < 0 {
				p.Under, p.Height = opposite[p.Under], -p.Height
			}
			props = append(props, p)
		}
		a := attitudeOf(props, geometry.Sides{})
		turn := a.Rotation()
		assert.InDelta(t, along, -turn.Apply(geometry.V(0.4, 0, 0)).Z, 1e-12)
		assert.InDelta(t, across, turn.Apply(geometry.V(0, 0.25, 0)).Z, 1e-12)
		back := attitudeOf(a.Props(box, geometry.Sides{}), geometry.Sides{})
		assert.InDelta(t, a.Pitch, back.Pitch, 0.003, "blocks under half a millimetre are left out")
		assert.InDelta(t, a.Roll, back.Roll, 0.003)
	})
}

// Sizes in, the same numbers in the shape.
func TestShapesByTheirSizes(t *testing.T) {
	for text, want := range map[string]shape.Shape{
		"{cone: {axis: upright, near: 0, far: 200, length: 300}}":             shape.Cone{Axis: shape.Upright, Far: 0.2, Length: 0.3},
		"{wedge: {length: 300, width: 200, rear: 150, front: 40, round: 10}}": shape.Wedge{Length: 0.3, Width: 0.2, Rear: 0.15, Front: 0.04, Radius: 0.01},
		"{ring: {diameter: 400, width: 90, height: 120, round: 40 %}}":        shape.Ring{Diameter: 0.4, Width: 0.09, Height: 0.12, Roundness: 0.4},
		"{lobes: {spread: 300, lobe: {box: {length: 300, width: 200, height: 150}}, crossover: {z: 40, diameter: 20}}}": shape.Lobes{
			Lobe: shape.Box{Length: 0.3, Width: 0.2, Height: 0.15}, Spread: 0.3, Crossover: shape.Crossover{Z: 0.04, Diameter: 0.02}},
		"{box: {length: 300, width: 200, height: 150}, wells: [{centre: \"150 from the front, 100 from the left, -30 up\", diameter: 40}]}": shape.Fitted{
			Tank: shape.Box{Length: 0.3, Width: 0.2, Height: 0.15}, Necks: []shape.Neck{{Centre: geometry.V(0, 0, -0.03), Axis: geometry.V(0, 0, -1), Diameter: 0.04}}},
	} {
		j, err := Parse("x.yaml", []byte("job: 1\ntank: {shape: "+text+"}"))
		require.NoError(t, err, text)
		assert.Equal(t, want, j.Tank.Shape, text)
	}
}

func TestShapesThatAreNone(t *testing.T) {
	for text, want := range map[string]string{
		"{lobes: {spread: 300, lobe: {}, crossover: {z: 40, diameter: 20}}}":                                      "tank.shape.lobes.lobe: is one of box, drum, stack, cone, wedge and ring: this one has 0",
		"{cone: {near: 0, far: 0, length: 300}}":                                                                  "cone diameters are both 0 mm",
		"{box: {length: 300, width: 200, height: 150}, wells: [{centre: [0, 0, -30], diameter: 4}, {centre: 5}]}": "tank.shape.wells[1].diameter: is missing",
		"{box: {length: 300, width: 200, height: 150}, tunnel: []}":                                               "tank.shape.tunnel: unknown key; the nearest is tunnels",
		"{box: {length: 300}, necks: []}":                                                                         "tank.shape.box.width: is missing",
	} {
		_, err := Parse("x.yaml", []byte("job: 1\ntank: {shape: "+text+"}"))
		require.ErrorContains(t, err, want, text)
	}
}
