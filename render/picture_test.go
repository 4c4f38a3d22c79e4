package render

import (
	"fmt"
	"image/color"
	"math"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/render/colormap"
	"evenwall/render/internal/golden"
)

// sectionOf and clearanceOf make the other pictures' scenes from that of the wall.
func sectionOf(s Scene) SectionScene {
	return SectionScene{Scene: s, Cut: CutThrough(&s.Rods[0], s.Openings[0], s.Sides), Potential: inLiquid(&s)}
}

func clearanceOf(s Scene) ClearanceScene {
	gap := gapOf(&s)
	return ClearanceScene{
		Scene: s, Gap: gap, Rim: Gap{Rod: gap.Rod, Distance: 0.031}, Worst: 0.0123, Limit: 0.025,
		Held: "worst of the tolerance, 12.3 mm",
	}
}

// pictures draws all three kinds of picture of two tanks, with what can go wrong in them:
// a warning, a plug, wall without data, a baffle, a tunnel, a tilted level.
func pictures(t testing.TB, width int) map[string]*canvas {
	t.Helper()
	out := map[string]*canvas{}
	warned := sprayer(0.02)
	warned.Notes.Warnings = []string{"The solver stopped early, at a residual of 0.004: take these figures as provisional, and run it again with more rounds."}
	tank := statesOf(sprayer(0.02))
	var err error
	out["tank-sprayer"], err = drawTank(tank, []Spot{{At: tank.Openings[0].Centre, Words: "The filler, where the air goes out: 60 mm across."}}, Settings{Width: width})
	require.NoError(t, err)
	compared(t, out, Settings{Width: width})
	for name, s := range map[string]Scene{"pump-house": pumpHouse(0.01), "sprayer": warned} {
		set := Settings{Width: width}
		var err error
		out["wall-"+name], err = drawWall(s, set)
		require.NoError(t, err)
		out["section-"+name], err = drawSection(sectionOf(s), set)
		require.NoError(t, err)
		out["clearance-"+name], err = drawClearance(clearanceOf(s), set)
		require.NoError(t, err)
	}
	return out
}

// compared draws three walls side by side, one of them in another tank, and the difference of
// the two in one.
func compared(t testing.TB, out map[string]*canvas, set Settings) {
	first := pumpHouse(0.01)
	plumb := *plumbIn(&first)
	all := []Contender{
		{Name: "leaning rod", Words: "120 h to 95 % of the wall within reach; 99 % after 10 days", Scene: first},
		{Name: "plumb rod", Words: "never 95 % of the wall within reach; 59 % after 10 days", Scene: plumb},
		{Name: "sprayer", Words: "40 h to 95 % of the wall within reach; 100 % after 10 days", Scene: sprayer(0.02)},
	}
	var err error
	out["compare"], err = drawCompared("Orchard pump house", all, first.Notes, set)
	require.NoError(t, err)
	ratio := first
	ratio.Rods, ratio.Surface.Value = nil, make([]float64, len(first.Surface.Value))
	for i := range ratio.Surface.Value {
		ratio.Surface.Value[i] = plumb.Surface.Value[i] / first.Surface.Value[i]
	}
	spots := []Spot{{At: geometry.V(0.4, 0.2, 0.1), Words: "front, 280 mm to the front from the middle of the filler: leaning rod brings 2 A/m2, plumb rod 1 A/m2"}}
	out["difference"], err = drawDifference(ratio, [2]string{"leaning rod", "plumb rod"}, spots, set)
	require.NoError(t, err)
}

// plumbIn returns the scene with a plumb rod in its filler instead.
func plumbIn(s *Scene) *Scene {
	out := *s
	at := s.Openings[0].Centre
	rod := geometry.Rod{Name: "rod", Radius: 0.005, Path: geometry.Straight(geometry.V(at.X, at.Y, 0.12), geometry.V(at.X, at.Y, 0.24)),
		Bare: []geometry.Span{{From: 0, To: 0.03}}}
	out.Rods = []geometry.Rod{rod}
	out.Surface.Value = lit(&s.Surface.Mesh, &rod, 60)
	out.Patches = LeastReached(out.Surface, PatchSettings{Below: s.Least, From: at})
	return &out
}

// statesOf takes a scene's figures away and gives some of its wetted wall other states.
func statesOf(s Scene) Scene {
	s.Surface.State = append([]State(nil), s.Surface.State...)
	if len(s.Surface.State) == 0 {
		s.Surface.State = make([]State, len(s.Surface.Mesh.Faces))
	}
	for i, state := range s.Surface.State {
		t := s.Surface.Mesh.Triangle(i)
		switch up := t.Normal().Z; {
		case state == Wetted && up > 0.9:
			s.Surface.State[i] = Ceiling
		case state == Wetted && t.Centroid().Y > 0 && t.Normal().Y > 0.9:
			s.Surface.State[i] = Pocket
		}
	}
	return s
}

func TestPicturesLookAsTheyDid(t *testing.T) {
	for name, c := range pictures(t, 600) {
		t.Run(name, func(t *testing.T) {
			// Rounding differs between processors where lines are smoothed: a few pixels.
			golden.Compare(t, filepath.Join("testdata", name+".png"), c.image, golden.Tolerance{Channel: 24, Share: 0.001})
		})
	}
}

func TestTextsOfThePictures(t *testing.T) {
	drawn := pictures(t, 1200)
	t.Run("whole, apart and large enough", func(t *testing.T) { textsAreReadable(t, drawn) })
	t.Run("nothing forbidden, nothing left out", func(t *testing.T) { wordsAreRight(t, drawn) })
	t.Run("sides, scale and places", func(t *testing.T) { wallIsLabelled(t, drawn["wall-pump-house"]) })
}

// No text may run off the sheet, over another, or be smaller than can be read on a phone.
func textsAreReadable(t *testing.T, drawn map[string]*canvas) {
	for name, c := range drawn {
		texts := c.texts
		assert.Greater(t, len(texts), 15, name)
		sheet := rect{0, 0, sheetWidth, float64(c.image.Bounds().Dy())}
		for i, w := range texts {
			assert.True(t, w.box.x0 >= 0 && w.box.y0 >= 0 && w.box.x1 <= sheet.x1 && w.box.y1 <= sheet.y1,
				"%s: %q runs off the sheet: %v", name, w.text, w.box)
			assert.GreaterOrEqual(t, max(w.box.height(), w.box.width()), 20.0, "%s: %q", name, w.text)
			for _, v := range texts[i+1:] {
				assert.False(t, w.box.overlaps(v.box), "%s: %q and %q", name, w.text, v.text)
			}
		}
	}
	assert.GreaterOrEqual(t, min(small, body, heading, large), 20.0, "layout units, pixels at 1200")
}

// What no picture may say, and what every picture must.
func wordsAreRight(t *testing.T, drawn map[string]*canvas) {
	never := regexp.MustCompile(`(?i)\b(safe|unsafe|clean|done|guaranteed|harmless|no risk|gas-free|sufficient ventilation|leave overnight)\b`)
	for name, c := range drawn {
		all := ""
		for _, w := range c.texts {
			assert.False(t, never.MatchString(w.text), "%s: %q", name, w.text)
			all += w.text + " "
		}
		assert.Contains(t, all, "Field: ", name)
		assert.Contains(t, all, "factor of about three", name)
		assert.Contains(t, all, " mm", name)
	}
}

func wallIsLabelled(t *testing.T, c *canvas) {
	written := map[string]bool{}
	for _, w := range c.texts {
		written[w.text] = true
	}
	for _, word := range []string{
		"Left side", "Right side", "Front", "Rear", "Top, looking up", "Bottom, looking down",
		"Inner wall, looking to the left", "Inner wall, looking to the right",
		"Current density of the wall, A/m²", "less", "more", "100 mm", "filler",
		"dry wall", "opening", "least reached", "rod, bare", "rod under plastic", "level of the liquid", "1", "2",
	} {
		assert.True(t, written[word], "%q is missing", word)
	}
}

func TestTheSameValuesGiveTheSameBytes(t *testing.T) {
	first, second := pictures(t, 400), pictures(t, 400)
	for name := range first {
		assert.Equal(t, first[name].image.Pix, second[name].image.Pix, name)
	}
}

// A uniform wall must come out in its own band's colour wherever nothing lies over it:
// the pixel in the middle of a side, and three figures on, under and over the scale.
func TestColoursMeanTheirFigures(t *testing.T) {
	m := grid{nx: 4, ny: 4, nz: 4, size: 0.05}.mesh()
	scale := Scale{1, 100}
	b := scale.bands()
	for value, want := range map[float64]color.RGBA{
		0.5: colormap.Under.Colour(), 200: colormap.Over.Colour(), 6: b.at(math.Log10(6)), 0: colormap.Under.Colour(),
	} {
		values := make([]float64, len(m.Faces))
		for i := range values {
			values[i] = value
		}
		s := Scene{Title: "cube", Surface: Surface{Mesh: m, Value: values}, Scale: scale}
		l, err := newLettering(1200)
		require.NoError(t, err)
		a := arrange(&s.Surface, s.Sides)
		w := &wallSheet{canvas: newCanvas(l, 2000), scene: &s, plans: a.panels, paint: newWallPaint(&s, b, 1)}
		w.scale, w.cells, _ = pack(a.panels, func(string) float64 { return 100 }, fullWidth, 1000)
		w.panels(0)
		for _, c := range w.cells {
			p := c.inner.centre().add(point{7, 5})
			assert.Equal(t, want, w.image.RGBAAt(int(p.x), int(p.y)), "%g A/m²", value)
		}
	}
}

// Panels must not overlap each other and must fit the sheet, whatever the tank's shape.
func TestPanelsAreApartAndFitTheSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(0.05, 2)
		x, y, z := side.Draw(t, "x"), side.Draw(t, "y"), side.Draw(t, "z")
		m := grid{nx: 1, ny: 1, nz: 1, size: 1}.mesh()
		m = m.Transformed(func(v geometry.Vec) geometry.Vec { return geometry.V(v.X*x, v.Y*y, v.Z*z) })
		var plans []panelPlan
		for _, v := range sixViews(geometry.Sides{}) {
			plans = append(plans, panelPlan{view: v, title: v.title, span: spanned(&m, []int32{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}, v)})
		}
		scale, cells, bottom := pack(plans, func(s string) float64 { return 13 * float64(len(s)) }, fullWidth, 1250)
		assert.LessOrEqual(t, bottom, 1250.0)
		for i, c := range cells {
			assert.True(t, c.outer.x0 >= margin-1e-9 && c.outer.x1 <= sheetWidth-margin+1e-9)
			assert.GreaterOrEqual(t, max(c.inner.width(), c.inner.height()), scale*min(x, y, z)*(1-1e-9))
			for _, o := range cells[i+1:] {
				assert.False(t, c.outer.overlaps(o.outer))
			}
		}
	})
}

func TestWhatCannotBeDrawnIsAnError(t *testing.T) {
	good := pumpHouse(0.02)
	for name, spoil := range map[string]func(*Scene){
		"no facets: nothing to draw": func(s *Scene) { s.Surface = Surface{} },
		"one for each facet":         func(s *Scene) { s.Surface.Value = s.Surface.Value[1:] },
		"two points and a thickness": func(s *Scene) { s.Rods = []geometry.Rod{{Name: "rod"}} },
		"0 < low < high":             func(s *Scene) { s.Scale = Scale{5, 2} },
		"from the same surface":      func(s *Scene) { s.Patches = []Patch{{Number: 1, Faces: []int{1 << 20}}} },
		"mend the surface first":     func(s *Scene) { s.Surface.Mesh.Vertices[3].X = math.NaN() },
	} {
		s := good
		s.Surface.Mesh.Vertices = append([]geometry.Vec(nil), good.Surface.Mesh.Vertices...)
		spoil(&s)
		_, err := Wall(s, Settings{})
		assert.ErrorContains(t, err, name)
		_, err = Section(SectionScene{Scene: s, Cut: sectionOf(good).Cut}, Settings{})
		assert.ErrorContains(t, err, name)
		_, err = Clearance(ClearanceScene{Scene: s, Gap: Gap{Rod: "rod"}}, Settings{})
		assert.ErrorContains(t, err, name)
	}
	far := sectionOf(good)
	far.Cut.Origin = geometry.V(0, 9, 0)
	_, err := Section(far, Settings{})
	assert.ErrorContains(t, err, "does not meet the tank")
	far.Cut.V = geometry.V(1, 0, 1)
	_, err = Section(far, Settings{})
	assert.ErrorContains(t, err, "perpendicular")
	_, err = Clearance(ClearanceScene{Scene: good, Gap: Gap{OnRod: geometry.V(math.NaN(), 0, 0)}}, Settings{})
	assert.ErrorContains(t, err, "finite")
}

// A scene may lack nearly everything and still be drawn.
func TestBareScenesAreDrawn(t *testing.T) {
	m := grid{nx: 3, ny: 2, nz: 2, size: 0.05}.mesh()
	s := Scene{Title: "cube", Surface: Surface{Mesh: m}}
	_, err := Wall(s, Settings{Width: 300})
	assert.NoError(t, err)
	_, err = Section(SectionScene{Scene: s, Cut: Cut{Origin: geometry.V(0.05, 0.05, 0.05), U: geometry.V(1, 0, 0), V: geometry.V(0, 0, 1)}}, Settings{Width: 300})
	assert.NoError(t, err)
	_, err = Clearance(ClearanceScene{Scene: s, Worst: math.NaN()}, Settings{Width: 300})
	assert.NoError(t, err)
}

// Patches must stay readable in a grey print: the stripes' black and white are at least
// half the way from black to white apart from each other and one of them from any ground.
func TestHatchingShowsOnEveryGroundInGrey(t *testing.T) {
	for _, ground := range colormap.Bands(12) {
		grey := color.GrayModel.Convert(ground).(color.Gray).Y
		assert.GreaterOrEqual(t, max(int(grey), 255-int(grey)), 127)
	}
	p := &wallPaint{unit: 1}
	seen := map[color.RGBA]int{}
	ground := color.RGBA{90, 60, 70, 255}
	for x := range 300 {
		seen[p.hatch(ground, x, 17)]++
	}
	for _, c := range []color.RGBA{ground, {0, 0, 0, 255}, {255, 255, 255, 255}} {
		assert.GreaterOrEqual(t, seen[c], 45, "at least 15 %% of a line across is %v", c)
	}
}

func BenchmarkWall100kFacets(b *testing.B) {
	s := pumpHouse(0.00315)
	for b.Loop() {
		if _, err := Wall(s, Settings{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(s.Surface.Mesh.Faces)), "facets")
}

func BenchmarkSection(b *testing.B) {
	s := sectionOf(pumpHouse(0.005))
	s.Potential = func(p geometry.Vec) (float64, bool) { return p.X * 20, true }
	for b.Loop() {
		if _, err := Section(s, Settings{}); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleWhereabout() {
	filler, patch := geometry.V(0.12, 0.12, 0.19), geometry.V(-0.06, 0.18, 0.07)
	fmt.Println(Whereabout(geometry.Sides{}, filler, patch))
	// Output: 180 mm to the rear, 60 mm to the left, 120 mm down
}
