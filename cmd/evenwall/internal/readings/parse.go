package readings

import (
	"fmt"
	"math"
	"strings"

	"evenwall/field/bath"
)

// parser goes through the file row by row.
type parser struct {
	columns    []column
	commasPart bool
	headed     bool
	station    string
	calendar   calendar
	rows       []Row
	faults     []Fault
}

func (p *parser) fault(line int, err error) {
	p.faults = append(p.faults, Fault{line, err.Error()})
}

// line takes in one line of the file.
func (p *parser) line(number int, text string) {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasPrefix(text, "#") {
		return
	}
	if name, ok := stationName(text); ok {
		p.station = name
		return
	}
	parts, err := cells(text, p.commasPart)
	if err != nil {
		p.fault(number, err)
		return
	}
	if len(p.rows) == 0 && !p.headed && p.heading(parts) {
		return
	}
	row, err := p.row(joined(parts, p.columns[0] == clock))
	if err != nil {
		p.fault(number, err)
		return
	}
	row.Line = number
	p.rows = append(p.rows, row)
}

// stationName returns the name in a line such as "station: to the rear".
func stationName(text string) (string, bool) {
	const word = "station"
	if len(text) <= len(word) || !strings.EqualFold(text[:len(word)], word) {
		return "", false
	}
	rest := text[len(word):]
	if !strings.ContainsAny(rest[:1], ": \t") || strings.ContainsAny(rest, ";,") {
		return "", false
	}
	name := strings.TrimSpace(strings.TrimLeft(rest, ": \t"))
	return name, name != ""
}

// heading takes the cells as the names of columns, if they are.
func (p *parser) heading(parts []string) bool {
	var columns []column
	known := 0
	for _, cell := range parts {
		if cell != "" && isDigit(cell[0]) {
			return false
		}
		of := ignored
		name := strings.ToLower(cell)
		for _, word := range strings.FieldsFunc(name, func(c rune) bool { return strings.ContainsRune(" ()[]/.", c) }) {
			if c, ok := names()[word]; ok && (of == ignored || c == fahrenheit) {
				of = c
			}
		}
		if of != ignored {
			known++
		}
		columns = append(columns, of)
	}
	if known < 2 {
		return false
	}
	p.columns, p.headed = columns, true
	return true
}

// joined puts a date to its time, a half of the day to its clock, and a unit that stands by
// itself to its number. clockFirst says that the first cell is the time, with its date or not.
func joined(parts []string, clockFirst bool) []string {
	var out []string
	for _, cell := range parts {
		last := len(out) - 1
		low := strings.ToLower(strings.Trim(cell, "."))
		_, isUnit := unitsOf()[low]
		switch {
		case last == 0 && (low == "am" || low == "pm" || low == "a.m" || low == "p.m"):
			out[0] += low[:1] + "m"
		case clockFirst && last == 0 && isDate(out[0]):
			out[0] += " " + cell
		case last >= 1 && isUnit && numberThenUnit.MatchString(out[last]) && isDigit(out[last][len(out[last])-1]):
			out[last] += cell
		default:
			out = append(out, cell)
		}
	}
	return out
}

// row reads the cells of one reading.
func (p *parser) row(parts []string) (Row, error) {
	r := Row{Volts: math.NaN(), Amps: math.NaN(), Kelvin: math.NaN(), Station: p.station}
	day, dated, when := 0, false, ""
	for i, cell := range parts {
		of := note
		if i < len(p.columns) {
			of = p.columns[i]
		}
		if isMissing(cell) {
			continue
		}
		switch {
		case of == clock:
			when = cell
		case of == date:
			d, err := dayOf(cell)
			if err != nil {
				return r, err
			}
			day, dated = d, true
		case of == place:
			r.Station, p.station = cell, cell
		case of == ignored:
		case of == note || r.Note != "" || isWords(cell):
			if r.Note == "" && i >= len(p.columns) && numberThenUnit.MatchString(cell) {
				return r, fmt.Errorf("has %d cells and %q is one too many: time, volts, amps, temperature, then a note", len(parts), cell)
			}
			r.Note = strings.TrimSpace(r.Note + " " + cell)
		default:
			if err := r.set(cell, of); err != nil {
				return r, err
			}
		}
	}
	r.Scrubbed = strings.Contains(strings.ToLower(r.Note), "scrub")
	return p.timed(r, when, day, dated)
}

// isWords reports whether a cell is a note rather than a figure.
func isWords(cell string) bool {
	c := cell[0]
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80
}

// set puts a figure where it belongs.
func (r *Row) set(cell string, of column) error {
	x, of, err := figure(cell, of)
	if err != nil {
		return err
	}
	at := map[column]*float64{volts: &r.Volts, amps: &r.Amps, celsius: &r.Kelvin, fahrenheit: &r.Kelvin}[of]
	switch of {
	case celsius:
		x = bath.Kelvin(x)
	case fahrenheit:
		x = bath.Kelvin((x - 32) / 1.8)
	}
	if !math.IsNaN(*at) {
		return fmt.Errorf("%q comes on top of another figure of its kind: one of each in a row", cell)
	}
	*at = x
	return nil
}

// timed gives a row its time.
func (p *parser) timed(r Row, when string, day int, dated bool) (Row, error) {
	if when == "" {
		return r, fmt.Errorf("has no time: give such as 22:15 first")
	}
	if first, rest, ok := strings.Cut(strings.Replace(when, "T", " ", 1), " "); ok && isDate(first) {
		d, err := dayOf(first)
		if err != nil {
			return r, err
		}
		day, dated, when = d, true, rest
	}
	of, err := ofDay(when)
	if err == nil {
		r.Time, err = p.calendar.at(of, day, dated)
	}
	if err != nil && !strings.Contains(err.Error(), when) {
		err = fmt.Errorf("%s %w", when, err)
	}
	return r, err
}
