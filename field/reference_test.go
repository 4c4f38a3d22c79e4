package field

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/field/electrode"
	"evenwall/geometry"
	"evenwall/geometry/stlfile"
	"evenwall/geometry/vessel"
)

// reference is a tank of our own invention with its finite-element answer (second-order
// elements on curved tetrahedra, three meshes, the current cross-checked with a second
// general-purpose program to 6e-6; see testdata/README.md).
type reference struct {
	name   string
	shell  string
	baffle string
	filler vessel.Opening
	height float64 // of the liquid above the floor, m
	wall   float64 // film, ohm m²
	anode  Anode
	want   struct {
		Current    float64            `json:"current_a"`
		Percentile map[string]float64 `json:"percentile_a_m2"`
		Probes     []struct {
			At     [3]float64 `json:"at_mm"`
			Normal [3]float64 `json:"normal"`
			J      float64    `json:"j_a_m2"`
		} `json:"probes"`
	}
}

func mm(x, y, z float64) geometry.Vec { return geometry.V(x, y, z).Scale(1e-3) }

func bareRod(diameter float64, tip, top geometry.Vec, bare float64) geometry.Rod {
	return geometry.Rod{Radius: diameter / 2000, Path: geometry.Straight(tip, top), Bare: []geometry.Span{{From: 0, To: bare}}}
}

func references(t testing.TB) []*reference {
	sleeved := bareRod(12, mm(80, 20, 30), mm(80, 20, 330), 0.090)
	sleeved.Sleeve = 0.010
	all := []*reference{
		{name: "saddle-tilted", shell: "tank.stl", height: 0.190, wall: 0.02,
			filler: vessel.Opening{Centre: mm(-60, 12, 190), Axis: geometry.V(0, 0, 1), Diameter: 0.060},
			anode: Anode{Law: electrode.Film{Resistance: 0.002},
				Rod: bareRod(10, mm(-38.420783, 42.818315, 86.633812), mm(-68.35068, 0.074131, 230), 1)}},
		{name: "drum-sleeved", shell: "tank.stl", height: 0.210,
			filler: vessel.Opening{Centre: mm(80, 20, 298.66), Axis: geometry.V(0, 0.13333, 0.99107), Diameter: 0.060},
			anode:  Anode{Rod: sleeved}},
		{name: "box-baffle", shell: "shell.stl", baffle: "baffle.stl", height: 0.180, wall: 0.01,
			filler: vessel.Opening{Centre: mm(100, 140, 200), Axis: geometry.V(0, 0, 1), Diameter: 0.060},
			anode:  Anode{Rod: bareRod(10, mm(100, 140, 40), mm(100, 140, 230), 1)}},
	}
	for _, r := range all {
		data, err := os.ReadFile(filepath.Join("..", "testdata", "cases", r.name, "reference.json"))
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(data, &r.want))
	}
	return all
}

func (r *reference) file(t testing.TB, name string) geometry.Mesh {
	m, _, err := stlfile.Read(filepath.Join("..", "testdata", "cases", r.name, name), stlfile.Millimetre)
	require.NoError(t, err)
	return m
}

// fill lays the tank on a lattice.
func (r *reference) fill(t testing.TB, g Grid) *Filled {
	tank := vessel.Tank{Shell: r.file(t, r.shell), Openings: []vessel.Opening{r.filler}}
	if r.baffle != "" {
		tank.Baffles = []geometry.Mesh{r.file(t, r.baffle)}
	}
	v, err := vessel.New(tank)
	require.NoError(t, err)
	f, err := Fill(v, v.Fill(r.height), g, nil)
	require.NoError(t, err)
	return f
}

func (r *reference) problem(f *Filled) *Problem {
	return &Problem{Liquid: f.Liquid, Level: f.Level, Conductivity: 0.6, Wall: electrode.Film{Resistance: r.wall},
		Normal: f.Normal, Supply: Supply{Voltage: 9}, Anodes: []Anode{r.anode}}
}
