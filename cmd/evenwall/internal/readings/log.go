package readings

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
)

// Row is one reading. A figure that was not written down is NaN.
type Row struct {
	Line     int     // in the file, from 1
	Time     float64 // s since midnight before the first row; never less than in the row before
	Volts    float64 // from rod to tank, V; negative as shown
	Amps     float64 // A; negative as shown
	Kelvin   float64 // of the bath, K
	Station  string  // the station named last; "" before any
	Scrubbed bool    // the note says that the rod was scrubbed
	Note     string
}

// HasVolts reports whether volts were written down.
func (r *Row) HasVolts() bool { return !math.IsNaN(r.Volts) }

// HasAmps reports whether amps were written down.
func (r *Row) HasAmps() bool { return !math.IsNaN(r.Amps) }

// HasKelvin reports whether a temperature was written down.
func (r *Row) HasKelvin() bool { return !math.IsNaN(r.Kelvin) }

// Fault is something in the file that cannot be read.
type Fault struct {
	Line int
	Text string // cause, value and way out
}

// Error carries every row that cannot be read.
type Error struct {
	File   string
	Faults []Fault
}

// Error gives a line for each fault, the first dozen of them.
func (e *Error) Error() string {
	const most = 12
	var rows []string
	for i, f := range e.Faults {
		if i == most {
			rows = append(rows, fmt.Sprintf("%s: and %d more rows", filepath.Base(e.File), len(e.Faults)-most))
			break
		}
		where := filepath.Base(e.File)
		if f.Line > 0 {
			where = fmt.Sprintf("%s:%d", where, f.Line)
		}
		rows = append(rows, where+": "+f.Text)
	}
	return strings.Join(rows, "\n")
}

// Load reads the file at path. Its errors are *Error.
func Load(path string) ([]Row, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		reason := "cannot be read: " + err.Error()
		if errors.Is(err, fs.ErrNotExist) {
			reason = "there is no such file: check the path " + path
		}
		return nil, &Error{path, []Fault{{Text: reason}}}
	}
	return Parse(path, string(text))
}

// lines parts text into its rows, whatever ends them.
func lines(text string) []string {
	return strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
}

// Parse reads text as the file at path.
func Parse(path, text string) ([]Row, error) {
	text = strings.TrimPrefix(text, "\ufeff")
	p := parser{columns: usualColumns(), commasPart: commasPart(text)}
	for i, line := range lines(text) {
		p.line(i+1, line)
	}
	if len(p.faults) == 0 && len(p.rows) == 0 {
		p.faults = []Fault{{Text: "holds no readings: write a row for each, such as 22:15; 9.8; 3.2; 21"}}
	}
	if len(p.faults) > 0 {
		return nil, &Error{path, p.faults}
	}
	return p.rows, nil
}
