package job

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/geometry/shape"
)

// Any job that can be read is written and read back as the same values, to the last bit.
func TestWrittenJobReadsBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJob(t)
		back, err := Parse("out/layout.yaml", j.YAML("out"))
		if err != nil {
			t.Fatalf("%v\n%s", err, j.YAML("out"))
		}
		back.Path = j.Path
		assert.Equal(t, j, back)
	})
}

func TestPathsAreRelativeToTheFolder(t *testing.T) {
	root := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(root, "out"), 0o755))
	path := filepath.Join(root, "sprayer.yaml")
	require.NoError(t, os.WriteFile(path, []byte(sprayer), 0o644))
	j, err := Load(path)
	require.NoError(t, err)
	out := filepath.Join(root, "out")
	text := j.YAML(out)
	assert.Contains(t, string(text), `surface: "../sprayer.stl"`)
	require.NoError(t, os.WriteFile(filepath.Join(out, "layout.yaml"), text, 0o644))
	back, err := Load(filepath.Join(out, "layout.yaml"))
	require.NoError(t, err)
	assert.Equal(t, j.Tank, back.Tank)
}

func TestOpeningsLinesCanBePasted(t *testing.T) {
	openings := []Opening{{Name: "filler", Centre: geometry.V(0.12, 0, 0.19), Axis: geometry.V(0, 0.6, 0.8), Diameter: 0.06, Use: Steel, Twelve: geometry.V(0, -1, 0)}}
	text := "job: 1\ntank:\n  shape: {box: {length: 300, width: 200, height: 150}}\n" + OpeningsYAML(openings, geometry.Sides{})
	j, err := Parse("x.yaml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, openings, j.Tank.Openings)
}

func drawJob(t *rapid.T) *Job {
	j := &Job{
		Title:  rapid.StringMatching(`[ -~äµ²]{0,12}[a-z"'\\#:]`).Draw(t, "title"),
		Tank:   drawTank(t),
		Bath:   Bath{Level: drawLevel(t), Conductivity: min(size(t, "conductivity"), mostConductivity)},
		Wall:   drawWall(t),
		Supply: Supply{Voltage: size(t, "voltage"), Resistance: size(t, "resistance"), Dead: 0.5, DeadGiven: true},
		Search: drawSearch(t),
		Aim:    drawAim(t),
	}
	if rapid.Bool().Draw(t, "moves") {
		for _, name := range []string{"first", "second"} {
			j.Stations = append(j.Stations, Station{name, size(t, "hours"), Attitude{place(t), place(t)}, []Anode{drawAnode(t)}})
		}
	} else {
		j.Anodes = []Anode{drawAnode(t)}
	}
	return j
}

func drawTank(t *rapid.T) Tank {
	k := Tank{Unit: 0.001, Capacity: size(t, "capacity"), Attitude: Attitude{place(t), place(t)}}
	k.Sides = rapid.SampledFrom([]geometry.Sides{{}, geometry.FrontAt(geometry.V(0, 1, 0)), geometry.FrontAt(geometry.V(0, -1, 0))}).Draw(t, "sides")
	twelve := rapid.SampledFrom([]geometry.Vec{{}, geometry.V(0, -1, 0), geometry.V(0, 0, 1)}).Draw(t, "twelve")
	k.Openings = []Opening{{"filler", spot(t), spot(t).Add(geometry.V(9, 0, 0)).Unit(), size(t, "opening"), Plugged, twelve}}
	if rapid.Bool().Draw(t, "sheets") {
		k.Sludge, k.Seams = small(t), []string{"round the belly: 120 up", "a #2 of it"}
		k.Sheets = []shape.Sheet{
			shape.Plate{Centre: spot(t), Normal: spot(t).Add(geometry.V(0, 9, 0)).Unit(), Width: side(t), Height: side(t),
				Holes: []shape.Hole{{Across: small(t) / 10, Up: -small(t) / 10, Diameter: 0.001, Length: 0.002, Turn: small(t)}}},
			shape.Spout{Centre: spot(t), Axis: geometry.V(0, 0, 1), Diameter: side(t), Length: side(t), Restrictor: small(t)},
		}
	}
	switch rapid.IntRange(0, 8).Draw(t, "tank") {
	case 0:
		k.Surface, k.Unit, k.Baffles = "out/a b.stl", 0.0254, []string{"baffle's.stl"}
	case 1:
		k.Shape = shape.Box{Length: side(t), Width: side(t), Height: side(t), Radius: small(t)}
	case 2:
		k.Shape = shape.Drum{Axis: shape.Upright, Diameter: side(t), Length: side(t), Head: shape.Head{Kind: shape.Elliptical, Depth: small(t)}}
	case 3:
		k.Shape = shape.Cone{Axis: shape.Upright, Near: side(t), Far: side(t), Length: side(t)}
	case 4:
		k.Shape = shape.Wedge{Length: side(t), Width: side(t), Rear: side(t), Front: side(t), Radius: small(t)}
	case 5:
		k.Shape = shape.Ring{Diameter: 9, Width: side(t), Height: side(t), Roundness: 0.3}
	case 6:
		k.Shape = shape.Lobes{Lobe: shape.Box{Length: 1, Width: side(t), Height: 1, Radius: small(t)}, Spread: 9, Crossover: shape.Crossover{X: small(t), Z: 0.5, Diameter: small(t)}}
	case 7:
		bare := shape.Box{Length: 2, Width: 2, Height: side(t), Radius: small(t)}
		k.Shape = shape.Fitted{Tank: bare, Necks: []shape.Neck{{Centre: geometry.V(small(t), small(t), bare.Height+small(t)), Axis: geometry.V(0, 0, 1), Diameter: small(t)}},
			Tunnels: []shape.Tunnel{{From: geometry.V(-0.5, -1.5, 0.1), To: geometry.V(-0.5, 1.5, 0.1), Diameter: small(t)}}}
	default:
		first := shape.Section{At: -small(t), Width: side(t), Height: side(t), Bottom: place(t), Side: place(t), Corner: small(t)}
		last := shape.Section{At: side(t), Width: side(t), Height: side(t), Roundness: 0.3, Notch: shape.Notch{Width: small(t), Height: 0.1}}
		k.Shape = shape.Stack{Sections: []shape.Section{first, last}, Bends: []shape.Bend{{At: small(t), Angle: small(t), Radius: 19}}}
	}
	return k
}

func drawLevel(t *rapid.T) Level {
	by := rapid.SampledFrom([]Measure{Brim, AboveLowest, BelowRim, Filled}).Draw(t, "by")
	if by == Brim {
		return Level{}
	}
	return Level{by, size(t, "level")}
}

func drawWall(t *rapid.T) Law {
	if rapid.Bool().Draw(t, "kinetic") {
		return Law{Film: size(t, "film"), Exchange: size(t, "exchange"), Slope: size(t, "slope")}
	}
	return Law{Film: size(t, "film")}
}

func drawAnode(t *rapid.T) Anode {
	a := Anode{Through: "filler", Law: Law{Film: size(t, "rodfilm")}}
	a.Name, a.Radius, a.Flat = "rod", size(t, "radius")/10, rapid.Bool().Draw(t, "flat")
	a.Path = geometry.Straight(spot(t), spot(t).Add(geometry.V(0, 0, 30)))
	a.Sleeve = a.Radius * 1.5
	switch rapid.IntRange(0, 2).Draw(t, "way") {
	case 1:
		a.Bend = Bend{a.Path[0].Add(geometry.V(1, 2, 12)), size(t, "bend radius") / 300}
		path, err := geometry.Bent(a.Path[0], a.Bend.Corner, a.Path[1], a.Bend.Radius)
		if err != nil {
			t.Skip(err)
		}
		a.Path = path
	case 2:
		a.Slack = small(t)
		a.Path = []geometry.Vec{a.Path[0], spot(t).Add(geometry.V(0, 0, 15)), a.Path[1]}
	}
	if rapid.Bool().Draw(t, "around") {
		a.Spacers = []geometry.Spacer{{At: small(t), Radius: a.Sleeve * 2, Thick: small(t)}}
		a.Guard = geometry.Guard{Outside: a.Sleeve * 2, Inside: a.Sleeve * 1.5, Open: 0.3, Hole: small(t)}
		a.Collar = geometry.Collar{At: small(t), Radius: small(t)}
	}
	a.Bare = []geometry.Span{{From: 0, To: 1 + size(t, "to")/100}, {From: 11.5, To: a.Length()}}
	return a
}

func drawSearch(t *rapid.T) Search {
	s := Search{Clearance: size(t, "clearance"), Rods: []float64{size(t, "rod")}, Count: rapid.IntRange(1, 3).Draw(t, "count"),
		Stretches: rapid.IntRange(1, 2).Draw(t, "stretches"), Stations: rapid.IntRange(1, 6).Draw(t, "stations"), Tolerance: drawTolerance(t), Drift: Drift{small(t), small(t)}}
	if s.Flexible = rapid.Bool().Draw(t, "flexible"); s.Flexible {
		s.LeastBend = 0.025
	}
	if s.Bent = rapid.Bool().Draw(t, "bent"); s.Bent {
		s.BendRadius = small(t)
	}
	s.Robust = !s.Tolerance.IsZero() && rapid.Bool().Draw(t, "robust")
	if !s.Robust && rapid.Bool().Draw(t, "attitudes") {
		s.Attitudes = []Attitude{{Pitch: small(t)}, {Pitch: -1, Roll: small(t)}}
	}
	return s
}

func drawAim(t *rapid.T) Aim {
	a := Aim{Charge: size(t, "charge"), Least: 1, Most: 1 + size(t, "most"), Share: rapid.Float64Range(0.01, 1).Draw(t, "share")}
	switch rapid.IntRange(0, 2).Draw(t, "aim") {
	case 1:
		a.Within = size(t, "within")
	case 2:
		a.LeastCharge = true
		a.Weights = Weights{Floor: small(t), Walls: size(t, "walls")}
		if a.Weights.Lined = rapid.Bool().Draw(t, "lined"); a.Weights.Lined {
			a.Weights.Waterline, a.Weights.At = small(t), small(t)
		}
		a.Spare = []Spared{{Name: "seam", Line: []geometry.Vec{spot(t), spot(t)}, Near: small(t), Most: small(t)},
			{Name: "patch", Line: []geometry.Vec{spot(t)}, Near: small(t), Charge: small(t)}}
	}
	return a
}

func drawTolerance(t *rapid.T) Tolerance {
	if rapid.Bool().Draw(t, "sure hand") {
		return Tolerance{}
	}
	return Tolerance{small(t), small(t), small(t)}
}

func size(t *rapid.T, name string) float64 { return rapid.Float64Range(1e-6, 900).Draw(t, name) }
func side(t *rapid.T) float64              { return rapid.Float64Range(0.2, 4).Draw(t, "side") }
func small(t *rapid.T) float64             { return rapid.Float64Range(1e-3, 0.09).Draw(t, "small") }
func place(t *rapid.T) float64             { return rapid.Float64Range(-4, 4).Draw(t, "place") }
func spot(t *rapid.T) geometry.Vec         { return geometry.V(place(t), place(t), place(t)) }

// The jobs that the project brings along are right, and go through their own writing.
func TestJobsBroughtAlong(t *testing.T) {
	paths, err := filepath.Glob("../../../../testdata/jobs/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range append(paths, "../../demo.yaml") {
		j, err := Load(path)
		require.NoError(t, err)
		require.NoError(t, j.Ready(NeedAnodes|NeedConductivity|NeedVoltage|NeedOpening), path)
		back, err := Parse(path, j.YAML(filepath.Dir(path)))
		require.NoError(t, err, path)
		assert.Equal(t, j, back, path)
	}
}
