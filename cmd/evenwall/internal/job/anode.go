package job

import (
	"fmt"

	"evenwall/geometry"
)

// Anode is a rod with the opening it hangs in and its electrode law. The plastic
// over a capped tip counts as any other stretch that is not bare.
type Anode struct {
	geometry.Rod
	Through string  // name of the opening
	Bend    Bend    // zero: not bent
	Slack   float64 // least bend radius of a flexible anode, m; 0: a stiff rod
	Law     Law
}

// ends are the words for an end, by whether it is cut flat.
var ends = []option[bool]{{"round", false}, {"flat", true}}

func readAnodes(v value, openings []Opening) []Anode {
	var anodes []Anode
	names := map[string]bool{}
	for i, entry := range v.some("rods") {
		f := entry.fields()
		a := readAnode(f, i, openings)
		if names[a.Name] {
			entry.faultf("%q is the name of two rods: give each its own", a.Name)
		}
		names[a.Name] = true
		f.finish()
		anodes = append(anodes, a)
	}
	return anodes
}

func readAnode(f *fields, place int, openings []Opening) Anode {
	a := Anode{Through: readThrough(f, openings)}
	a.Name = f.get("name").text()
	if a.Name == "" {
		a.Name = defaultName(place)
	}
	a.Radius = f.need("diameter", "the metal's diameter, such as 10").quantity(length, positive) / 2
	tip := f.need("tip", "the point [x, y, z] where the metal ends").point()
	top := f.need("top", "a point [x, y, z] of the rod above the liquid").point()
	a.Path = readPath(f, &a, tip, top)
	a.Flat = choice(f.get("end"), ends)
	a.Sleeve = f.get("sleeve").quantity(length, notNegative) / 2
	if a.Sleeve > 0 && a.Sleeve <= a.Radius {
		f.get("sleeve").faultf("%s is no wider than the metal, %s: give the outside diameter of the plastic",
			mm(2*a.Sleeve), mm(2*a.Radius))
	}
	a.Bare = readBare(f, a.Length())
	readAround(f, &a)
	a.Law = readLaw(f, Law{})
	return a
}

func defaultName(place int) string {
	if place == 0 {
		return "rod"
	}
	return fmt.Sprintf("rod %d", place+1)
}

// readThrough reads the opening's name; the only open one need not be named.
func readThrough(f *fields, openings []Opening) string {
	var names, open []string
	for _, o := range openings {
		names = append(names, o.Name)
		if o.Use == Open {
			open = append(open, o.Name)
		}
	}
	v := f.get("through")
	if !v.given() && len(open) == 1 {
		return open[0]
	}
	name := f.need("through", "the name of the opening it hangs in").text()
	for _, known := range names {
		if name == known {
			return name
		}
	}
	switch {
	case name == "":
	case len(names) == 0:
		v.faultf("%q is no opening: tank.openings has none", name)
	default:
		v.faultf("%q is no opening of the tank; the nearest is %s", name, nearest(name, names))
	}
	return name
}

// readBare returns the bare stretches: those given, or all of the rod, less what the
// tip cap covers.
func readBare(f *fields, whole float64) []geometry.Span {
	spans := []geometry.Span{{From: 0, To: whole}}
	bare, tipCap := f.get("bare"), f.get("tip_cap")
	if bare.given() {
		faults := len(bare.r.faults)
		spans = readSpans(bare)
		if len(bare.r.faults) > faults {
			return spans
		}
	}
	covered := tipCap.quantity(length, notNegative)
	for i := range spans {
		spans[i].From = max(spans[i].From, covered)
	}
	spans = geometry.MergeSpans(spans, whole)
	if len(spans) == 0 && whole > 0 {
		blame := bare
		if !bare.given() {
			blame = tipCap
		}
		blame.faultf("leaves no bare metal on a rod of %s: give a stretch [from, to] in mm from the tip", mm(whole))
	}
	return spans
}

func readSpans(v value) []geometry.Span {
	var spans []geometry.Span
	entries := v.some("stretches [from, to] in mm from the tip")
	if len(entries) == 2 && !entries[0].isList() && !entries[1].isList() {
		v.faultf("is a list of stretches: write [[%s, %s]]", entries[0].raw(), entries[1].raw())
		return nil
	}
	for _, entry := range entries {
		if !entry.isList() || len(entry.list("")) != 2 {
			entry.faultf("give two lengths [from, to] in mm from the tip")
			continue
		}
		ends := entry.list("")
		s := geometry.Span{From: ends[0].quantity(length, notNegative), To: ends[1].quantity(length, notNegative)}
		if s.To <= s.From {
			entry.faultf("ends at %s, not beyond where it begins, %s", mm(s.To), mm(s.From))
		}
		spans = append(spans, s)
	}
	return spans
}
