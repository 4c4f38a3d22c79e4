package job

import (
	"path/filepath"

	"evenwall/geometry"
	"evenwall/geometry/shape"
)

// Tank is the steel: a surface file or a shape, never both.
type Tank struct {
	Surface  string         // path of the STL; "" with a shape
	Unit     float64        // m per unit of the numbers in Surface and Baffles; 0.001 with a shape
	Shape    shape.Shape    // nil with a surface
	Sides    geometry.Sides // where front and left are
	Skin     Skin           // of the surface
	Baffles  []string       // paths of the STLs of internal sheets, both faces wall
	Sheets   []shape.Sheet  // internal sheets by their sizes, both faces wall
	Seams    []string       // where they run, as notes
	Sludge   float64        // depth of what lies on the floor, m; 0: none
	Capacity float64        // what the tank is known to hold, m³; 0 when not said
	Attitude Attitude       // how it is propped
	Openings []Opening      // in the order of the file
}

// Opening is a round hole in the steel.
type Opening struct {
	Name     string
	Centre   geometry.Vec // m
	Axis     geometry.Vec // outward, of length 1
	Diameter float64      // m
	Use      Use
	Twelve   geometry.Vec // the side where the rim has twelve o'clock, of length 1; zero: not said
}

// Use is what an opening is to the liquid and the current.
type Use int

const (
	Open    Use = iota // to the air, the zero value
	Plugged            // by something that insulates
	Steel              // by metal: it is wall
)

var uses = []option[Use]{{"open", Open}, {"plugged", Plugged}, {"steel", Steel}}

// String gives the word of the job file.
func (u Use) String() string { return word(uses, u) }

// word returns the word of the option that stands for as.
func word[T comparable](options []option[T], as T) string {
	for _, o := range options {
		if o.as == as {
			return o.word
		}
	}
	return ""
}

// surfaceUnits are the units of the numbers in an STL, in metres.
var surfaceUnits = []option[float64]{{"mm", 0.001}, {"cm", 0.01}, {"m", 1}, {"in", 0.0254}}

func readTank(v value, folder string) Tank {
	f := v.fields()
	t := Tank{Unit: 0.001, Sides: readSides(f.get("sides"))}
	v.r.sides = t.Sides
	surface, form := f.get("surface"), f.get("shape")
	unit := f.get("unit")
	switch {
	case surface.given() && form.given():
		form.faultf("stands beside a surface: keep one of the two")
	case surface.given():
		t.Surface = resolve(surface.text(), folder)
		t.Unit = choice(f.need("unit", "the unit of the surface's numbers: mm, cm, m or in"), surfaceUnits)
	case form.given():
		t.Shape = readShape(form)
		if unit.given() {
			unit.faultf("goes with a surface: leave it out, a shape is in mm")
		}
	case v.given():
		f.of.faultf("has no surface and no shape: give surface: tank.stl with its unit, or a shape")
	}
	t.Skin = readSkin(f, t.Surface != "")
	v.r.extent = t.extent()
	for _, b := range f.get("baffles").list("STL files, plates and spouts") {
		if b.isMapping() {
			t.Sheets = append(t.Sheets, readSheet(b)...)
		} else {
			t.Baffles = append(t.Baffles, resolve(b.text(), folder))
		}
	}
	t.Sludge = f.get("sludge").quantity(length, notNegative)
	for _, seam := range f.get("seams").list("notes, each a text") {
		if note := seam.text(); note != "" {
			t.Seams = append(t.Seams, note)
		}
	}
	t.Capacity = f.get("capacity").quantity(volume, positive)
	t.Attitude = readPropped(f, Attitude{})
	t.Openings = readOpenings(f.get("openings"))
	f.finish()
	return t
}

// resolve takes a path in a job file as relative to the file's folder.
func resolve(path, folder string) string {
	if path == "" || filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(folder, filepath.FromSlash(path))
}

func readOpenings(v value) []Opening {
	var openings []Opening
	names := map[string]bool{}
	for _, entry := range v.list("openings") {
		f := entry.fields()
		o := Opening{
			Name:     f.need("name", "a name, such as filler").text(),
			Centre:   f.need("centre", "the point [x, y, z] in the middle of the rim").point(),
			Axis:     f.need("axis", "the direction [x, y, z] that points outward").direction(),
			Diameter: f.need("diameter", "the clear width, such as 60").quantity(length, positive),
			Use:      choice(f.get("use"), uses),
		}
		o.Twelve = readTwelve(f.get("twelve"), o.Axis)
		if o.Name != "" && names[o.Name] {
			f.get("name").faultf("%q is the name of two openings: give each its own", o.Name)
		}
		names[o.Name] = true
		f.finish()
		openings = append(openings, o)
	}
	return openings
}

// direction reads [x, y, z] as a direction of length 1; one that is already within
// rounding of that length keeps its digits.
func (v value) direction() geometry.Vec {
	d, ok := v.triple(plain)
	if !ok {
		return geometry.Vec{}
	}
	largest := max(abs(d.X), abs(d.Y), abs(d.Z))
	const tiny, huge = 1e-100, 1e100
	if largest < tiny || largest > huge {
		v.faultf("is no direction: give the way that points outward, such as [0, 0, 1]")
		return geometry.Vec{}
	}
	const rounding = 1e-12
	if abs(d.Norm()-1) <= rounding {
		return d
	}
	return d.Scale(1 / largest).Unit()
}

func abs(x float64) float64 { return max(x, -x) }
