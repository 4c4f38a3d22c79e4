package job

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/shape"
)

const sprayer = `job: 1
title: Orchard sprayer tank
tank:
  surface: sprayer.stl
  unit: mm
  skin: inside
  baffles: [baffle.stl]
  capacity: 12 L
  attitude: {pitch: 8, roll: 0}
  openings:
    - {name: filler, centre: [120, 0, 190], axis: [0, 0, 2], diameter: 60}
    - {name: outlet, centre: [40, 0, 0], axis: [0, 0, -1], diameter: 14, use: plugged}
bath:
  level: 20 mm below rim
  conductivity: 6 mS/cm
wall:
  film: 0.02 ohm m2
  exchange: 0.03 A/m2
supply: {voltage: 12 V, resistance: 0.3 ohm, limit: 6 A}
anodes:
  - diameter: 3/8 in
    through: filler
    top: [120, 0, 230]
    tip: [120, 0, 40]
    end: flat
    bare: [[0, 90], [100, 120]]
    sleeve: 20
    film: 0.002 ohm m2
    tip_cap: 15
search: {clearance: 30, rods: [8, 10], count: 2, stations: 1, robust: false}
aim: {charge: 100 A h/m2, share: 90 %}
`

func TestEveryKeyArrivesInSI(t *testing.T) {
	j, err := Parse("bench/sprayer.yaml", []byte(sprayer))
	require.NoError(t, err)
	assert.Equal(t, Tank{
		Surface: filepath.FromSlash("bench/sprayer.stl"), Unit: 0.001,
		Baffles:  []string{filepath.FromSlash("bench/baffle.stl")},
		Capacity: 0.012, Attitude: Attitude{Pitch: 8 * degree},
		Openings: []Opening{
			{Name: "filler", Centre: geometry.V(0.12, 0, 0.19), Axis: geometry.V(0, 0, 1), Diameter: 0.06},
			{Name: "outlet", Centre: geometry.V(0.04, 0, 0), Axis: geometry.V(0, 0, -1), Diameter: 0.014, Use: Plugged},
		},
	}, j.Tank)
	assert.Equal(t, Bath{Level: Level{BelowRim, 0.02}, Conductivity: 0.6}, j.Bath)
	assert.Equal(t, Law{Film: 0.02, Exchange: 0.03, Slope: 0.12}, j.Wall)
	assert.Equal(t, Supply{Voltage: 12, Resistance: 0.3, Limit: 6}, j.Supply)
	assert.Equal(t, []Anode{{
		Rod: geometry.Rod{
			Name: "rod", Path: geometry.Straight(geometry.V(0.12, 0, 0.04), geometry.V(0.12, 0, 0.23)),
			Radius: 0.0047625, Flat: true, Sleeve: 0.01,
			Bare: []geometry.Span{{From: 0.015, To: 0.09}, {From: 0.1, To: 0.12}},
		},
		Through: "filler", Law: Law{Film: 0.002},
	}}, j.Anodes)
	assert.Equal(t, Search{Clearance: 0.03, Rods: []float64{0.008, 0.01}, Count: 2, Stretches: 1, Stations: 1, Drift: Drift{Level: 0.005, Conductivity: 0.2}}, j.Search)
	assert.Equal(t, Aim{Charge: 360000, Least: 1, Most: 50, Share: 0.9}, j.Aim)
}

const shortest = `job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  openings: [{name: filler, centre: [0, 0, 150], axis: [0, 0, 1], diameter: 60}]
anodes: [{diameter: 10, top: [0, 0, 200], tip: [0, 0, 40]}]
`

func TestDefaultsAreTheDocumentedOnes(t *testing.T) {
	j, err := Parse("pump.yaml", []byte(shortest))
	require.NoError(t, err)
	assert.Equal(t, "pump", j.Title)
	assert.Equal(t, shape.Box{Length: 0.3, Width: 0.2, Height: 0.15}, j.Tank.Shape)
	assert.Equal(t, Level{}, j.Bath.Level)
	assert.Equal(t, Law{Exchange: 0.03, Slope: 0.12}, j.Wall)
	assert.Equal(t, defaultSearch(), j.Search)
	assert.Equal(t, defaultAim(), j.Aim)
	rod := j.First().Anodes[0]
	assert.Equal(t, "filler", rod.Through, "the only opening")
	assert.Equal(t, []geometry.Span{{From: 0, To: rod.Length()}}, rod.Bare, "bare to the top")
}

// The sums are those of the stated parts: 1.23 V reversible, 0.2 V pH split, 0.30 V
// usual at the wall, 0.49 V usual at a steel rod; 2.2 V where neither law has its own.
func TestDeadVoltageCountsNoOverpotentialTwice(t *testing.T) {
	kinetic, primary := Law{Exchange: 0.03, Slope: 0.12}, Law{Film: 0.02}
	for _, c := range []struct {
		wall, rod Law
		want      float64
	}{
		{primary, primary, 2.2}, {kinetic, kinetic, 1.43}, {kinetic, primary, 1.92}, {primary, kinetic, 1.73},
	} {
		j := Job{Wall: c.wall}
		assert.InDelta(t, c.want, j.DeadVoltage([]Anode{{Law: c.rod}}), 1e-12)
	}
	j := Job{Supply: Supply{Dead: 0, DeadGiven: true}}
	assert.Zero(t, j.DeadVoltage(nil), "0 V given is 0 V")
}

func TestLevelsAsAPersonGivesThem(t *testing.T) {
	for text, want := range map[string]Level{
		"brim": {}, "180": {AboveLowest, 0.18}, "7 in": {AboveLowest, 7 * 0.0254},
		"20 mm below rim": {BelowRim, 0.02}, "2 cm below rim": {BelowRim, 0.02}, "12 L": {Filled, 0.012},
	} {
		j, err := Parse("pump.yaml", []byte(shortest+"bath: {level: "+text+"}\n"))
		require.NoError(t, err, text)
		assert.Equal(t, want, j.Bath.Level, text)
	}
}

// Each row changes one thing of a job that is right; the message must name the line
// and say what would be accepted.
func TestFaultsNameLineKeyAndWayOut(t *testing.T) {
	for _, c := range []struct{ name, from, to, says string }{
		{"unknown key", "diameter: 60}", "diametr: 60}", "sprayer.yaml:11: tank.openings[0].diametr: unknown key; the nearest is diameter"},
		{"more than conducts", "conductivity: 6 mS/cm", "conductivity: 600 S/m", "600 S/m is more than any solution conducts: check the unit"},
		{"letters in another order", "title: Orchard", "tilte: Orchard", "tilte: unknown key; the nearest is title"},
		{"unknown key at the top", "title:", "titel:", "sprayer.yaml:2: titel: unknown key; the nearest is title"},
		{"no unit", "6 mS/cm", "0.6", "sprayer.yaml:15: bath.conductivity: 0.6 has no unit"},
		{"wrong unit", "12 V", "12 volts", `"volts" is no unit of a voltage that is known here: give V, mV`},
		{"not a number", "pitch: 8", "pitch: .nan", "tank.attitude.pitch: \".nan\" is not a finite angle"},
		{"negative size", "sleeve: 20", "sleeve: -20", "anodes[0].sleeve: -20 is negative"},
		{"zero size", "diameter: 14", "diameter: 0", "tank.openings[1].diameter: 0 is not above 0"},
		{"missing size", "end: flat", "guard: {outside: 32}", "sprayer.yaml:25: anodes[0].guard.inside: is missing: give its inside diameter"},
		{"outside without sheet", "skin: inside", "skin: outside", "tank.skin: is outside and sheet is not said: give the thickness of the steel"},
		{"sheet of an inside", "skin: inside", "sheet: 1.0 mm", "tank.sheet: goes with skin: outside"},
		{"no sheet metal", "skin: inside", "skin: outside\n  sheet: 40 mm", "tank.sheet: 40 is no sheet: give the thickness of the steel, at most 20"},
		{"too few positions", "stations: 1", "stations: 0", "search.stations"},
		{"wrong word", "use: plugged", "use: corked", `"corked" is none of open, plugged, steel`},
		{"unknown opening", "through: filler", "through: filer", `"filer" is no opening of the tank; the nearest is filler`},
		{"short point", "[120, 0, 230]", "[120, 230]", "give three numbers [x, y, z], not 2"},
		{"unit missing", "  unit: mm\n", "", "tank.unit: is missing: give the unit of the surface's numbers"},
		{"no direction", "[0, 0, 2]", "[0, 0, 0]", "tank.openings[0].axis: is no direction"},
		{"thin sleeve", "sleeve: 20", "sleeve: 5", "anodes[0].sleeve: 5 mm is no wider than the metal, 9.525 mm"},
		{"all covered", "tip_cap: 15", "tip_cap: 150", "leaves no bare metal on a rod of 190 mm"},
		{"backward stretch", "[0, 90]", "[90, 0]", "ends at 0 mm, not beyond where it begins, 90 mm"},
		{"nothing there", "title: Orchard sprayer tank", "title:", "title: has no value"},
		{"wrong version", "job: 1", "job: 2", `job: "2" is no version`},
		{"twice", "title: Orchard sprayer tank", "job: 1", `sprayer.yaml:2: is not written as YAML: mapping key "job" already defined`},
		{"alias", "title: Orchard sprayer tank", "title: &a x", "anchors, aliases and tags are not read"},
		{"whole share", "share: 90 %", "share: 120 %", "aim.share: 120 % is more than all"},
		{"level in volts", "20 mm below rim", "3 V", `bath.level: "3 V" is no level`},
		{"point for a rod", "tip: [120, 0, 40]", "tip: [120, 0, 230]", "the rod has no length"},
		{"list for one", "capacity: 12 L", "capacity: [12 L]", "give a volume such as 12 L"},
		{"one for list", "baffles: [baffle.stl]", "baffles: baffle.stl", "give a list of STL files"},
	} {
		require.Contains(t, sprayer, c.from, c.name)
		_, err := Parse("sprayer.yaml", []byte(strings.Replace(sprayer, c.from, c.to, 1)))
		if assert.Error(t, err, c.name) {
			assert.Contains(t, err.Error(), c.says, c.name)
		}
	}
}

func TestShapesCheckTheirOwnSizes(t *testing.T) {
	for text, says := range map[string]string{
		"{box: {length: 300, width: 200, height: 150, round: 90}}": "x.yaml:3: tank.shape: box edge radius is 90",
		"{box: {length: 300, width: 200}}":                         "tank.shape.box.height: is missing",
		"{}":                                                       "is one of box, drum, stack, cone, wedge, ring and lobes: this one has 0",
		"{box: {length: 1, width: 1, height: 1}, drum: {diameter: 2, length: 3}}": "this one has 2",
		"{cube: {length: 300}}":                                                        "unknown key; the nearest is",
		"{drum: {diameter: 200, length: 300, depth: 40}}":                              "belongs to elliptical heads: these are flat",
		"{stack: {sections: [{at: 0, width: 100, height: 80}]}}":                       "give at least two",
		"{stack: {sections: [{at: 0, width: 100, height: 80, round: 30 %}, {at: 0}]}}": "tank.shape.stack.sections[1].width: is missing",
	} {
		_, err := Parse("x.yaml", []byte("job: 1\ntank:\n  shape: "+text+"\n"))
		assert.ErrorContains(t, err, says, text)
	}
}

func TestAllFaultsAtOnceInOrderOfLines(t *testing.T) {
	text := strings.NewReplacer("60}", "-60}", "12 V", "12", "unit: mm", "unit: ell", "sleeve", "sleve").Replace(sprayer)
	_, err := Parse("sprayer.yaml", []byte(text))
	var faults *FaultsError
	require.True(t, errors.As(err, &faults))
	var lines []int
	for _, f := range faults.Faults {
		lines = append(lines, f.Line)
	}
	assert.Equal(t, []int{5, 11, 19, 27}, lines)
}

func TestWhatIsNoJobFileAtAll(t *testing.T) {
	for name, text := range map[string]string{
		"empty": "", "only a remark": "# nothing\n", "a list": "- 1\n", "a word": "tank", "several": "--- {job: 1}\n--- {job: 1}\n",
		"tabs": "job:\t1\n\ttank: x", "binary": "\x00\x01\x02", "open": "tank: [1, 2",
	} {
		_, err := Parse("x.yaml", []byte(text))
		assert.Error(t, err, name)
	}
	_, err := Load(filepath.Join(t.TempDir(), "missing.yaml"))
	assert.ErrorContains(t, err, "there is no such file")
}

func TestReadyNamesEveryMissingKey(t *testing.T) {
	j, err := Parse("pump.yaml", []byte(shortest))
	require.NoError(t, err)
	assert.NoError(t, j.Ready(NeedAnodes|NeedOpening))
	err = j.Ready(NeedAnodes | NeedConductivity | NeedVoltage)
	assert.ErrorContains(t, err, "bath.conductivity: is missing")
	assert.ErrorContains(t, err, "supply.voltage: is missing")
	assert.NotContains(t, err.Error(), "anodes")
}

func TestRobustNeedsATolerance(t *testing.T) {
	_, err := Parse("a.yaml", []byte("job: 1\ntank: {shape: {box: {length: 3, width: 2, height: 1}}}\nsearch: {robust: true}\n"))
	require.ErrorContains(t, err, "a.yaml:3: search.robust: true needs the tolerance of the hand")
	s := parsed(t, "search: {robust: true, tolerance: {position: 4, level: 8, conductivity: 30 %}}\n").Search
	assert.True(t, s.Robust)
	assert.Equal(t, Tolerance{Position: 0.004}, s.Tolerance)
	assert.Equal(t, Drift{Level: 0.008, Conductivity: 0.3}, s.Drift)
	_, err = Parse("a.yaml", []byte("job: 1\ntank: {shape: {box: {length: 3, width: 2, height: 1}}}\nsearch: {tolerance: {conductivity: 100 %}}\n"))
	require.ErrorContains(t, err, "leaves no bath that conducts")
}

func TestOtherAims(t *testing.T) {
	a := parsed(t, `aim:
  within: 24 h
  weights: {floor: 2, waterline: 3, at: 60}
  spare:
    - {name: front seam, line: [[0, -80, 20], [0, 80, 20]], near: 2 cm, most: 10 A/m2, charge: 200 A h/m2}
`).Aim
	assert.Equal(t, 24*hour, a.Within)
	assert.Equal(t, Weights{Floor: 2, Walls: 1, Roof: 1, Lined: true, Waterline: 3, At: 0.06}, a.Weights)
	assert.Equal(t, []Spared{{"front seam", []geometry.Vec{geometry.V(0, -0.08, 0.02), geometry.V(0, 0.08, 0.02)}, 0.02, 10, 200 * hour}}, a.Spare)
	assert.True(t, parsed(t, "aim: {prefer: charge}\n").Aim.LeastCharge)
	for line, says := range map[string]string{
		"aim: {prefer: charge, within: 4 h}":                          "exclude each other",
		"aim: {prefer: wall}":                                         `"wall" is none of time, charge`,
		"aim: {weights: {floor: 0, walls: 0, roof: 0, waterline: 0}}": "leave nothing that counts",
		"aim: {weights: {flor: 2}}":                                   "the nearest is floor",
		"aim: {spare: [{name: seam, line: [[0, 0, 0]]}]}":             "aim.spare[0]: has no limit: give most",
		"aim: {spare: [{name: seam, most: 3 A/m2}]}":                  "aim.spare[0].line: is missing",
	} {
		_, err := Parse("x.yaml", []byte(withKeys(line+"\n")))
		assert.ErrorContains(t, err, says, line)
	}
}
