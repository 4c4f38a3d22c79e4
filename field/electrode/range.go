package electrode

import (
	"fmt"
	"math"
)

// RangeError is a quantity outside what a law accepts.
type RangeError struct {
	Key         string  // the quantity by its name in a job
	Value       float64 // in Unit
	Least, Most float64 // accepted, both ends included, in Unit
	Unit        string
	Note        string // a further way out; may be empty
}

// Error names the key, the value and what is accepted.
func (e *RangeError) Error() string {
	text := fmt.Sprintf("%s is %g %s: give %g to %g %s", e.Key, e.Value, e.Unit, e.Least, e.Most, e.Unit)
	if e.Note != "" {
		text += ", " + e.Note
	}
	return text
}

// check returns e as an error unless its value lies in its range. NaN lies in none.
func (e RangeError) check() error {
	if e.Value >= e.Least && e.Value <= e.Most && !math.IsInf(e.Value, 0) {
		return nil
	}
	return &e
}

// Validator is a Law that can say whether its own numbers make sense.
type Validator interface {
	Law
	Validate() error
}

// Validate returns the first fault of law, as a *RangeError, or nil. A law that is no
// Validator has none.
func Validate(law Law) error {
	if v, ok := law.(Validator); ok {
		return v.Validate()
	}
	return nil
}

// Validate accepts 0 to 100 ohm m²: at 100 a wall at 0.1 A/m² takes 10 V.
func (f Film) Validate() error {
	return RangeError{"film", f.Resistance, 0, 100, "ohm m2", "0 for none"}.check()
}

// Validate accepts exchange currents and slopes that some metal could have.
func (s Sinh) Validate() error { return kineticFault(s.Exchange, s.Slope) }

// Validate accepts exchange currents and slopes that some metal could have.
func (t Tafel) Validate() error { return kineticFault(t.Exchange, t.Slope) }

// Validate accepts knees and slopes that some metal could have.
func (t TwoSlope) Validate() error {
	faults := []RangeError{
		{"knee", t.Knee, 1e-3, 1e5, "A/m2", ""},
		{"overpotential at the knee", t.AtKnee, 0, 3, "V", ""},
		{"slope below the knee", t.Below, 0.01, 1, "V", "per decade of current"},
		{"slope above the knee", t.Above, 0.01, 1, "V", "per decade of current"},
	}
	return firstFault(faults)
}

// Validate returns the first fault of any part.
func (s Series) Validate() error {
	for _, law := range s {
		if err := Validate(law); err != nil {
			return err
		}
	}
	return nil
}

func kineticFault(exchange, slope float64) error {
	return firstFault([]RangeError{
		{"exchange", exchange, 1e-12, 1e4, "A/m2", ""},
		{"slope", slope, 0.01, 1, "V", "per decade of current"},
	})
}

func firstFault(checks []RangeError) error {
	for _, c := range checks {
		if err := c.check(); err != nil {
			return err
		}
	}
	return nil
}
