package job

// Shape is a parametric tank: one of *Box, *Drum and *Stack. Lengths are in metres, in
// the tank's own frame; inside measures.
type Shape interface{ shape() }

// Box stands on z = 0, centred on the origin in x and y.
type Box struct {
	Length float64 // along x, m
	Width  float64 // along y, m
	Height float64 // along z, m
	Round  float64 // radius of the edges, m; 0: sharp
}

// Drum is a cylinder with a head at each end.
type Drum struct {
	Pose     Pose
	Diameter float64 // m
	Length   float64 // of the straight part, m
	Heads    Heads
	Depth    float64 // of an elliptical head, m; 0: a quarter of the diameter
	Crown    float64 // radius of a dished head's crown, m; 0: the diameter
	Knuckle  float64 // radius of a dished head's knuckle, m; 0: 0.06 of the diameter
}

// Pose is how a drum lies.
type Pose int

const (
	Lying    Pose = iota // along x, the zero value
	Standing             // along z
)

// Heads is the form of a drum's ends.
type Heads int

const (
	Flat Heads = iota // the zero value
	Elliptical
	Dished
)

var (
	poses = []option[Pose]{{"lying", Lying}, {"standing", Standing}}
	heads = []option[Heads]{{"flat", Flat}, {"elliptical", Elliptical}, {"dished", Dished}}
)

// Stack is a row of cross-sections along x, joined by straight lines; flat at both ends.
type Stack struct{ Sections []Section } // at least two, At rising

// Section is a cross-section of a stack: a rectangle with rounded corners, symmetric
// about y = Side, from which a notch may be cut below.
type Section struct {
	At     float64 // x, m
	Width  float64 // along y, m
	Height float64 // along z, m
	Floor  float64 // z of its underside, m
	Side   float64 // y of its middle, m
	Round  float64 // radius of the corners, m; 0: sharp
	Notch  Notch
}

// Notch is a tunnel from below in the middle of a section, round at its top. The zero
// value is no notch.
type Notch struct {
	Width  float64 // m
	Height float64 // above the section's floor, m
}

func (*Box) shape()   {}
func (*Drum) shape()  {}
func (*Stack) shape() {}

func readShape(v value) Shape {
	f := v.fields()
	box, drum, stack := f.get("box"), f.get("drum"), f.get("stack")
	f.finish()
	var shape Shape
	count := 0
	if box.given() {
		shape, count = readBox(box), count+1
	}
	if drum.given() {
		shape, count = readDrum(drum), count+1
	}
	if stack.given() {
		shape, count = readStack(stack), count+1
	}
	if count != 1 && f.of.given() {
		v.faultf("is one of box, drum and stack: this one has %d of them", count)
	}
	return shape
}

func readBox(v value) *Box {
	f := v.fields()
	b := &Box{
		Length: f.size("length"),
		Width:  f.size("width"),
		Height: f.size("height"),
		Round:  f.get("round").quantity(length, notNegative),
	}
	f.finish()
	return b
}

// size reads a length that a shape cannot do without.
func (f *fields) size(key string) float64 {
	return f.need(key, "a length in mm").quantity(length, positive)
}

func readDrum(v value) *Drum {
	f := v.fields()
	d := &Drum{
		Pose:     choice(f.get("pose"), poses),
		Diameter: f.size("diameter"),
		Length:   f.size("length"),
		Heads:    choice(f.get("heads"), heads),
		Depth:    f.get("depth").quantity(length, positive),
		Crown:    f.get("crown").quantity(length, positive),
		Knuckle:  f.get("knuckle").quantity(length, positive),
	}
	if d.Depth > 0 && d.Heads != Elliptical {
		f.get("depth").faultf("belongs to elliptical heads: these are %s", word(heads, d.Heads))
	}
	for _, key := range []string{"crown", "knuckle"} {
		if f.get(key).given() && d.Heads != Dished {
			f.get(key).faultf("belongs to dished heads: these are %s", word(heads, d.Heads))
		}
	}
	f.finish()
	return d
}

func readStack(v value) *Stack {
	f := v.fields()
	sections := f.need("sections", "at least two cross-sections")
	s := &Stack{}
	for _, entry := range sections.list("cross-sections") {
		next := readSection(entry)
		if n := len(s.Sections); n > 0 && next.At <= s.Sections[n-1].At {
			entry.faultf("at %s is not beyond the section before it at %s: list them from the rear to the front",
				mm(next.At), mm(s.Sections[n-1].At))
		}
		s.Sections = append(s.Sections, next)
	}
	if sections.given() && len(s.Sections) < 2 {
		sections.faultf("a stack has at least two cross-sections: this one has %d", len(s.Sections))
	}
	f.finish()
	return s
}

func readSection(v value) Section {
	f := v.fields()
	s := Section{
		At:     f.need("at", "its place along x").quantity(length, anySign),
		Width:  f.size("width"),
		Height: f.size("height"),
		Floor:  f.get("floor").quantity(length, anySign),
		Side:   f.get("side").quantity(length, anySign),
		Round:  f.get("round").quantity(length, notNegative),
		Notch:  readNotch(f.get("notch")),
	}
	f.finish()
	return s
}

func readNotch(v value) Notch {
	f := v.fields()
	n := Notch{
		Width:  f.need("width", "its clear width").quantity(length, notNegative),
		Height: f.need("height", "how high it cuts in").quantity(length, notNegative),
	}
	f.finish()
	return n
}
