package job

import (
	"evenwall/geometry"
	"evenwall/geometry/shape"
)

// readSheet reads an internal sheet by its sizes; none after a fault.
func readSheet(v value) []shape.Sheet {
	f, found := v.fields(), len(v.r.faults)
	plate, spout := f.get("plate"), f.get("spout")
	f.finish()
	var sheet shape.Sheet
	switch {
	case plate.given() && spout.given():
		v.faultf("is a plate and a spout: give each its own entry")
	case plate.given():
		sheet = readPlate(plate)
	case spout.given():
		sheet = readSpout(spout)
	case len(v.r.faults) == found:
		v.faultf("is neither a file nor a sheet: give a path, plate: {...} or spout: {...}")
	}
	if len(v.r.faults) > found {
		return nil
	}
	if err := sheet.Validate(); err != nil {
		v.faultf("%v", err)
		return nil
	}
	return []shape.Sheet{sheet}
}

func readPlate(v value) shape.Plate {
	f := v.fields()
	p := shape.Plate{
		Centre: f.need("centre", "the middle of the rectangle").point(),
		Normal: f.need("normal", "the direction [x, y, z] square to the sheet").direction(),
		Width:  f.size("width"),
		Height: f.size("height"),
	}
	for _, entry := range f.get("holes").list("holes") {
		h := entry.fields()
		p.Holes = append(p.Holes, shape.Hole{
			Across:   h.get("across").quantity(length, anySign),
			Up:       h.get("up").quantity(length, anySign),
			Diameter: h.size("diameter"),
			Length:   h.get("length").quantity(length, notNegative),
			Turn:     h.get("turn").quantity(angle, anySign),
		})
		h.finish()
	}
	f.finish()
	return p
}

func readSpout(v value) shape.Spout {
	f := v.fields()
	s := shape.Spout{
		Centre:     f.need("centre", "the middle of its upper end").point(),
		Axis:       geometry.Vec{Z: 1},
		Diameter:   f.size("diameter"),
		Length:     f.size("length"),
		Restrictor: f.get("restrictor").quantity(length, notNegative),
	}
	if axis := f.get("axis"); axis.given() {
		s.Axis = axis.direction()
	}
	f.finish()
	return s
}
