package job

import (
	"strings"

	"evenwall/geometry/shape"
)

var (
	axes  = []option[shape.Axis]{{"lying", shape.Lying}, {"upright", shape.Upright}}
	heads = []option[shape.HeadKind]{{"flat", shape.Flat}, {"elliptical", shape.Elliptical}, {"dished", shape.Dished}}
)

// body is a shape by its key.
type body struct {
	key  string
	read func(*fields) shape.Shape
}

// bodies lists every shape but lobes, which are two of them.
func bodies() []body {
	return []body{
		{"box", readBox}, {"drum", readDrum}, {"stack", readStack}, {"cone", readCone}, {"wedge", readWedge}, {"ring", readRing},
	}
}

// readShape reads the one shape of a tank and lets it check its own sizes.
func readShape(v value) shape.Shape {
	f := v.fields()
	found := len(v.r.faults)
	shapes := readForms(f, append(bodies(), body{"lobes", readLobes}))
	if len(v.r.faults) == found && f.of.given() && len(shapes) != 1 {
		v.faultf("is one of box, drum, stack, cone, wedge, ring and lobes: this one has %d of them", len(shapes))
	}
	if len(v.r.faults) > found || !f.of.given() {
		f.known["necks"], f.known["wells"], f.known["tunnels"] = true, true, true
		f.finish()
		return nil
	}
	s := shapes[0]
	if err := s.Validate(); err != nil {
		v.faultf("%v", err)
		return nil
	}
	v.r.extent = Tank{Shape: s}.extent()
	s = readFittings(f, s)
	f.finish()
	if len(v.r.faults) > found {
		return nil
	}
	if err := s.Validate(); err != nil {
		v.faultf("%v", err)
	}
	return s
}

// readForms reads the shapes that are given.
func readForms(f *fields, known []body) []shape.Shape {
	var shapes []shape.Shape
	for _, b := range known {
		if at := f.get(b.key); at.given() {
			inner := at.fields()
			shapes = append(shapes, b.read(inner))
			inner.finish()
		}
	}
	return shapes
}

func readBox(f *fields) shape.Shape {
	return shape.Box{
		Length: f.size("length"),
		Width:  f.size("width"),
		Height: f.size("height"),
		Radius: f.get("round").quantity(length, notNegative),
	}
}

// size reads a length that a shape cannot do without.
func (f *fields) size(key string) float64 {
	return f.need(key, "a length in mm").quantity(length, positive)
}

func readDrum(f *fields) shape.Shape {
	d := shape.Drum{
		Axis:     choice(f.get("axis"), axes),
		Diameter: f.size("diameter"),
		Length:   f.need("length", "the length of the straight part in mm").quantity(length, notNegative),
		Head: shape.Head{
			Kind:    choice(f.get("heads"), heads),
			Depth:   f.get("depth").quantity(length, positive),
			Crown:   f.get("crown").quantity(length, positive),
			Knuckle: f.get("knuckle").quantity(length, positive),
		},
	}
	for _, k := range []struct {
		key string
		of  shape.HeadKind
	}{{"depth", shape.Elliptical}, {"crown", shape.Dished}, {"knuckle", shape.Dished}} {
		if f.get(k.key).given() && d.Head.Kind != k.of {
			f.get(k.key).faultf("belongs to %s heads: these are %s", word(heads, k.of), word(heads, d.Head.Kind))
		}
	}
	return d
}

func readStack(f *fields) shape.Shape {
	s := shape.Stack{Axis: choice(f.get("axis"), axes)}
	for _, entry := range f.need("sections", "at least two cross-sections").list("cross-sections") {
		s.Sections = append(s.Sections, readSection(entry))
	}
	for _, entry := range f.get("bends").list("bends") {
		b := entry.fields()
		s.Bends = append(s.Bends, shape.Bend{
			At:     b.need("at", "where the turn starts along the axis").quantity(length, anySign),
			Angle:  b.need("angle", "how far it turns, above 0 to the left").quantity(angle, anySign),
			Radius: b.size("radius"),
		})
		b.finish()
	}
	return s
}

func readSection(v value) shape.Section {
	f := v.fields()
	s := shape.Section{
		At:     f.need("at", "its place along the axis").quantity(length, anySign),
		Width:  f.size("width"),
		Height: f.size("height"),
		Bottom: f.get("bottom").quantity(length, anySign),
		Side:   f.get("side").quantity(length, anySign),
		Notch:  readNotch(f.get("notch")),
	}
	s.Corner, s.Roundness = readRound(f.get("round"))
	f.finish()
	return s
}

// readRound reads the corners of a section: a radius, or a share of the way from
// sharp to a full ellipse.
func readRound(v value) (corner, roundness float64) {
	if strings.HasSuffix(v.raw(), "%") {
		return 0, v.quantity(share, notNegative)
	}
	return v.quantity(length, notNegative), 0
}

func readNotch(v value) shape.Notch {
	f := v.fields()
	n := shape.Notch{
		Width:  f.need("width", "its clear width").quantity(length, notNegative),
		Height: f.need("height", "how high it cuts in").quantity(length, notNegative),
	}
	f.finish()
	return n
}

func readCone(f *fields) shape.Shape {
	return shape.Cone{
		Axis:   choice(f.get("axis"), axes),
		Near:   f.need("near", "the diameter at the rear or lower end, 0 for a point").quantity(length, notNegative),
		Far:    f.need("far", "the diameter at the front or upper end, 0 for a point").quantity(length, notNegative),
		Length: f.size("length"),
	}
}

func readWedge(f *fields) shape.Shape {
	return shape.Wedge{
		Length: f.size("length"),
		Width:  f.size("width"),
		Rear:   f.size("rear"),
		Front:  f.size("front"),
		Radius: f.get("round").quantity(length, notNegative),
	}
}

func readRing(f *fields) shape.Shape {
	return shape.Ring{
		Diameter:  f.size("diameter"),
		Width:     f.size("width"),
		Height:    f.size("height"),
		Roundness: f.get("round").quantity(share, notNegative),
	}
}

// readLobes reads two like tanks side by side.
func readLobes(f *fields) shape.Shape {
	lobe := f.need("lobe", "the shape of one of them, as {box: {...}}").fields()
	shapes := readForms(lobe, bodies())
	lobe.finish()
	pipe := f.need("crossover", "the pipe between them, as {x: 0, z: 40, diameter: 20}").fields()
	l := shape.Lobes{
		Spread: f.size("spread"),
		Crossover: shape.Crossover{
			X:        pipe.get("x").quantity(length, anySign),
			Z:        pipe.need("z", "the height of its middle").quantity(length, anySign),
			Diameter: pipe.size("diameter"),
		},
	}
	pipe.finish()
	if len(shapes) == 1 {
		l.Lobe = shapes[0]
	} else if lobe.of.given() {
		lobe.of.faultf("is one of box, drum, stack, cone, wedge and ring: this one has %d of them", len(shapes))
	}
	return l
}
