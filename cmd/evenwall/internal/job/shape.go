package job

import (
	"strings"

	"evenwall/geometry/shape"
)

var (
	axes  = []option[shape.Axis]{{"lying", shape.Lying}, {"upright", shape.Upright}}
	heads = []option[shape.HeadKind]{{"flat", shape.Flat}, {"elliptical", shape.Elliptical}, {"dished", shape.Dished}}
)

// readShape reads the one shape of a tank and lets it check its own sizes.
func readShape(v value) shape.Shape {
	f := v.fields()
	found := len(v.r.faults)
	var shapes []shape.Shape
	for _, form := range []struct {
		key  string
		read func(*fields) shape.Shape
	}{{"box", readBox}, {"drum", readDrum}, {"stack", readStack}} {
		if at := f.get(form.key); at.given() {
			inner := at.fields()
			shapes = append(shapes, form.read(inner))
			inner.finish()
		}
	}
	f.finish()
	if len(v.r.faults) > found || !f.of.given() {
		return nil
	}
	if len(shapes) != 1 {
		v.faultf("is one of box, drum and stack: this one has %d of them", len(shapes))
		return nil
	}
	if err := shapes[0].Validate(); err != nil {
		v.faultf("%v", err)
	}
	return shapes[0]
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
