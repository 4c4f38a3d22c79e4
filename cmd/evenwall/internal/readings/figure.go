package readings

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// column is what a cell is about.
type column int

const (
	ignored column = iota
	clock
	date
	volts
	amps
	celsius
	fahrenheit
	place
	note
)

func usualColumns() []column { return []column{clock, volts, amps, celsius} }

// names are the words of headings.
func names() map[string]column {
	return map[string]column{
		"time": clock, "clock": clock, "at": clock, "date": date, "day": date,
		"volts": volts, "volt": volts, "v": volts, "voltage": volts, "amps": amps, "amp": amps, "a": amps, "current": amps, "ampere": amps,
		"temp": celsius, "temperature": celsius, "c": celsius, "degc": celsius, "\u00b0c": celsius,
		"f": fahrenheit, "degf": fahrenheit, "\u00b0f": fahrenheit, "station": place, "note": note, "notes": note, "remark": note, "remarks": note,
	}
}

// unit is what a unit makes of a number.
type unit struct {
	of     column
	factor float64
}

func unitsOf() map[string]unit {
	return map[string]unit{
		"v": {volts, 1}, "mv": {volts, 1e-3}, "volt": {volts, 1}, "volts": {volts, 1},
		"a": {amps, 1}, "ma": {amps, 1e-3}, "amp": {amps, 1}, "amps": {amps, 1},
		"c": {celsius, 1}, "degc": {celsius, 1}, "\u00b0c": {celsius, 1}, "\u00b0": {celsius, 1},
		"f": {fahrenheit, 1}, "degf": {fahrenheit, 1}, "\u00b0f": {fahrenheit, 1},
	}
}

var numberThenUnit = regexp.MustCompile(`^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)) *([^\d\s.,+-][^\d\s]*)?$`)

// figure reads a number with or without its unit; a unit says which column it belongs to,
// whatever stands above it.
func figure(cell string, of column) (float64, column, error) {
	m := numberThenUnit.FindStringSubmatch(cell)
	if m == nil {
		return math.NaN(), of, fmt.Errorf("%q is no reading: give a number such as 9.8, or - for none", cell)
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(m[1], ",", "."), 64)
	if err != nil {
		return math.NaN(), of, fmt.Errorf("%q is no reading: give a number such as 9.8, or - for none", cell)
	}
	if m[2] != "" {
		u, ok := unitsOf()[strings.ToLower(m[2])]
		if !ok {
			return math.NaN(), of, fmt.Errorf("%q has the unit %q, which is none of V, mV, A, mA, C and F", cell, m[2])
		}
		x, of = x*u.factor, u.of
	}
	return x, of, within(x, of, cell)
}

// within holds a figure against what a bench can show.
func within(x float64, of column, cell string) error {
	limits := map[column]struct {
		least, most float64
		unit        string
	}{volts: {-60, 60, "V"}, amps: {-200, 200, "A"}, celsius: {-10, 100, "degC"}, fahrenheit: {14, 212, "degF"}}
	l, ok := limits[of]
	if !ok || x >= l.least && x <= l.most {
		return nil
	}
	return fmt.Errorf("%s is outside %g to %g %s: look whether a point or a column slipped", cell, l.least, l.most, l.unit)
}
