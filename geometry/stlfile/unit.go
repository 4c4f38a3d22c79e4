// Package stlfile reads and writes surfaces as STL files and says what is wrong with
// them. It is the only place that knows the file format's library.
package stlfile

import (
	"fmt"
	"strings"
)

// Unit is the length that the numbers of a file count. STL files do not say it. The
// zero value is none and is refused.
type Unit int

// The units that a file may be in.
const (
	Millimetre Unit = iota + 1
	Centimetre
	Metre
	Inch
)

// units lists every unit.
var units = [...]Unit{Millimetre, Centimetre, Metre, Inch}

// Metres returns the unit's length, m.
func (u Unit) Metres() float64 {
	switch u {
	case Millimetre:
		return 1e-3
	case Centimetre:
		return 1e-2
	case Metre:
		return 1
	case Inch:
		return 25.4e-3
	default:
		return 0
	}
}

// String returns the unit as a job file has it.
func (u Unit) String() string {
	switch u {
	case Millimetre:
		return "mm"
	case Centimetre:
		return "cm"
	case Metre:
		return "m"
	case Inch:
		return "in"
	default:
		return "no unit"
	}
}

// ParseUnit returns the unit of that name.
func ParseUnit(name string) (Unit, error) {
	for _, u := range units {
		if strings.EqualFold(strings.TrimSpace(name), u.String()) {
			return u, nil
		}
	}
	return 0, fmt.Errorf("unit %q is not known: use mm, cm, m or in", name)
}
