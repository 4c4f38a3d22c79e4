// Package units writes quantities for a reader, in metric or in American units. It takes SI
// and gives text; nothing is computed from what it gives.
package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"evenwall/field/bath"
)

// System is a system of units. The zero value is metric.
type System int

const (
	Metric System = iota
	US
)

// Parse returns the system of that name.
func Parse(name string) (System, error) {
	switch name {
	case "metric":
		return Metric, nil
	case "us":
		return US, nil
	}
	return Metric, fmt.Errorf("%q is no system of units: give metric or us", name)
}

// Unit is a unit of a quantity in both systems: shown = SI · factor + offset.
type Unit struct {
	names   [2]string
	factors [2]float64
	offsets [2]float64
	places  [2]int // decimals, or fewer where three digits say it
}

// Factors: the inch is 25.4 mm, the US gallon 3.785411784 L, the pound 453.59237 g, the
// foot 0.3048 m, all by definition.
const (
	inch   = 0.0254
	foot   = 0.3048
	gallon = 3.785411784e-3
	pound  = 0.45359237
)

var (
	Length      = Unit{names: [2]string{"mm", "in"}, factors: [2]float64{1e3, 1 / inch}, places: [2]int{0, 2}}
	Distance    = Unit{names: [2]string{"m", "ft"}, factors: [2]float64{1, 1 / foot}, places: [2]int{1, 1}}
	Volume      = Unit{names: [2]string{"L", "gal"}, factors: [2]float64{1e3, 1 / gallon}, places: [2]int{2, 2}}
	Small       = Unit{names: [2]string{"mL", "fl oz"}, factors: [2]float64{1e6, 128 / gallon}, places: [2]int{0, 1}}
	Area        = Unit{names: [2]string{"m²", "ft²"}, factors: [2]float64{1, 1 / (foot * foot)}, places: [2]int{2, 2}}
	Mass        = Unit{names: [2]string{"kg", "lb"}, factors: [2]float64{1, 1 / pound}, places: [2]int{1, 1}}
	Grams       = Unit{names: [2]string{"g", "oz"}, factors: [2]float64{1e3, 16 / pound}, places: [2]int{0, 1}}
	Dose        = Unit{names: [2]string{"g/L", "oz/gal"}, factors: [2]float64{1, gallon * 16 / pound}, places: [2]int{1, 2}}
	Density     = Unit{names: [2]string{"A/m²", "A/ft²"}, factors: [2]float64{1, foot * foot}, places: [2]int{1, 2}}
	Temperature = Unit{names: [2]string{"°C", "°F"}, factors: [2]float64{1, 1.8}, offsets: [2]float64{-273.15, 32 - 273.15*1.8}, places: [2]int{0, 0}}
	Warming     = Unit{names: [2]string{"K/h", "°F/h"}, factors: [2]float64{3600, 1.8 * 3600}, places: [2]int{1, 1}}
	Flow        = Unit{names: [2]string{"m³/h", "cfm"}, factors: [2]float64{3600, 60 / (foot * foot * foot)}, places: [2]int{2, 2}}
	GasRate     = Unit{names: [2]string{"L/h", "gal/h"}, factors: [2]float64{1, 1e-3 / gallon}, places: [2]int{1, 2}}
)

// figure returns SI in the system's unit, without its name.
func (s System) figure(u Unit, si float64) string {
	x := si*u.factors[s] + u.offsets[s]
	places := u.places[s]
	if size := math.Abs(x); size >= 100 {
		places = 0
	} else if size >= 10 && places > 1 {
		places = 1
	}
	text := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Trim(text, "-0.") == "" && x != 0 {
		return strconv.FormatFloat(x, 'g', 1, 64)
	}
	return text
}

// Text writes a quantity, in SI, with its unit.
func (s System) Text(u Unit, si float64) string { return s.figure(u, si) + " " + u.names[s] }

// Name returns the unit's name.
func (s System) Name(u Unit) string { return u.names[s] }

// Range writes a quantity with its band: "3.1 (2.5 to 3.9) A".
func (s System) Range(u Unit, r bath.Range) string {
	if s.figure(u, r.Low) == s.figure(u, r.High) {
		return s.Text(u, r.Mid)
	}
	return fmt.Sprintf("%s (%s to %s) %s", s.figure(u, r.Mid), s.figure(u, r.Low), s.figure(u, r.High), u.names[s])
}

// Span writes only the band: "2.5 to 3.9 A".
func (s System) Span(u Unit, r bath.Range) string {
	low, high := s.figure(u, r.Low), s.figure(u, r.High)
	if low == high {
		return low + " " + u.names[s]
	}
	return low + " to " + high + " " + u.names[s]
}
