package job

import (
	"strings"

	"evenwall/geometry"
	"evenwall/geometry/stlfile"
)

const tapeExample = "210 from the front, 95 from the left, 40 up"

// extent returns how to find the tank's own box, as a tape measures it. The surface is
// only read when a place by tape asks for it.
func (t Tank) extent() func() (geometry.Box, error) {
	if t.Shape != nil {
		return func() (geometry.Box, error) { return t.Shape.Bounds(), nil }
	}
	if t.Surface == "" {
		return nil
	}
	return func() (geometry.Box, error) {
		for _, u := range []stlfile.Unit{stlfile.Millimetre, stlfile.Centimetre, stlfile.Metre, stlfile.Inch} {
			if u.Metres() == t.Unit {
				m, _, err := stlfile.Read(t.Surface, u)
				return m.Bounds(), err
			}
		}
		return geometry.Box{}, nil
	}
}

// box returns the tank's box; false after a fault, or when its own fault was said already.
func (v value) box() (geometry.Box, bool) {
	if v.r.extent == nil {
		return geometry.Box{}, false
	}
	b, err := v.r.extent()
	if err != nil {
		v.faultf("the tank's sides are not known: %v", err)
		return b, false
	}
	return b, !b.IsEmpty()
}

// tape reads a place as a tape gives it, each of its three lengths from a side of the tank:
// "210 from the front, 95 from the left, 40 up".
func (v value) tape(text string) geometry.Vec {
	b, ok := v.box()
	if !ok {
		return geometry.Vec{}
	}
	var p geometry.Vec
	var given [3]bool
	for part := range strings.SplitSeq(text, ",") {
		axis, high, distance, ok := v.tapeLength(part)
		if !ok {
			return geometry.Vec{}
		}
		if given[axis] {
			ends := v.r.sides.Ends()[axis]
			v.faultf("%q says twice how far it is %s to %s: give each way once, as %s", text, ends[0], ends[1], tapeExample)
			return geometry.Vec{}
		}
		given[axis] = true
		if high {
			p = p.WithAxis(axis, b.Max.Axis(axis)-distance)
		} else {
			p = p.WithAxis(axis, b.Min.Axis(axis)+distance)
		}
	}
	for axis, known := range given {
		if !known {
			ends := v.r.sides.Ends()[axis]
			v.faultf("%q does not say how far it is from the %s or the %s: give it too, as %s", text, ends[1], ends[0], tapeExample)
			return geometry.Vec{}
		}
	}
	return p
}

// tapeLength reads one length of a place by tape: the axis, whether it is taken from the
// side at the high end of it, and the distance, m.
func (v value) tapeLength(part string) (axis int, high bool, distance float64, ok bool) {
	number, side := tapeParts(strings.TrimSpace(part))
	for axis, names := range v.r.sides.Ends() {
		if side != names[0] && side != names[1] {
			continue
		}
		d, err := length.parse(number)
		if err != nil {
			v.faultf("%v", err)
			return 0, false, 0, false
		}
		return axis, side == names[1], d, true
	}
	v.faultf("%q is no point and no place by tape: give [x, y, z], or as \"%s\"", strings.TrimSpace(part), tapeExample)
	return 0, false, 0, false
}

// tapeParts cuts "210 from the front" into its number and its side. Up is from the bottom,
// down from the top.
func tapeParts(part string) (number, side string) {
	if n, ok := strings.CutSuffix(part, " up"); ok {
		return n, "bottom"
	}
	if n, ok := strings.CutSuffix(part, " down"); ok {
		return n, "top"
	}
	number, side, _ = strings.Cut(part, " from ")
	return number, strings.TrimPrefix(strings.TrimSpace(side), "the ")
}
