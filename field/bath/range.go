// Package bath holds what is known of the liquid and of what the current does to it:
// soda by its forms, conductivity, density, gas, air, heat, water, and the loss of the rod.
// They are published tables and formulas, each with its source; a value from memory says so.
//
// Units are SI: temperatures in kelvin (Kelvin and Celsius convert), though the sources'
// tables are in degC.
// Concentration in kg/m³ is the same number as g/L.
package bath

import (
	"fmt"
	"math"
)

// Range is a value with the band it may lie in: Low <= Mid <= High, all in one unit.
type Range struct{ Low, Mid, High float64 }

// Exactly returns the range without width.
func Exactly(v float64) Range { return Range{v, v, v} }

// Around returns mid with a band of a share of it to either side.
func Around(mid, share float64) Range {
	half := math.Abs(mid) * share
	return Range{mid - half, mid, mid + half}
}

// Scale returns r times f, which may be negative.
func (r Range) Scale(f float64) Range {
	if f < 0 {
		return Range{r.High * f, r.Mid * f, r.Low * f}
	}
	return Range{r.Low * f, r.Mid * f, r.High * f}
}

// Plus returns the sum, as wide as if both erred together.
func (r Range) Plus(s Range) Range { return Range{r.Low + s.Low, r.Mid + s.Mid, r.High + s.High} }

// Union returns the band around both, with the middle of r.
func (r Range) Union(s Range) Range {
	return Range{math.Min(r.Low, s.Low), r.Mid, math.Max(r.High, s.High)}
}

// Contains reports whether v lies in the band, its ends included.
func (r Range) Contains(v float64) bool { return v >= r.Low && v <= r.High }

// LimitError is a quantity outside what a table or formula covers.
type LimitError struct {
	What        string  // the quantity, in words
	Value       float64 // in Unit
	Least, Most float64 // covered, both ends included, in Unit
	Unit        string
	Way         string // the way out
}

// Error names the quantity, its value, what is covered and the way out.
func (e *LimitError) Error() string {
	return fmt.Sprintf("%s is %.4g %s, and %.4g to %.4g %s is covered: %s",
		e.What, e.Value, e.Unit, e.Least, e.Most, e.Unit, e.Way)
}

// check returns e as an error unless its value lies in its range; NaN lies in none.
func (e LimitError) check() error {
	if e.Value >= e.Least && e.Value <= e.Most {
		return nil
	}
	return &e
}
