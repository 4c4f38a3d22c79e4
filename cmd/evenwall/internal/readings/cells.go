package readings

import (
	"fmt"
	"regexp"
	"strings"
)

// plainly brings the signs that people type to the plain ones.
var plainly = strings.NewReplacer("\u00a0", " ", "\u2009", " ", "\u202f", " ", "\u2212", "-", "|", ";", "\t", ";")

var (
	decimalComma = regexp.MustCompile(`\d,\d`)
	decimalPoint = regexp.MustCompile(`(?:^|[ ;,+-])\d*\.\d`)
	dottedDate   = regexp.MustCompile(`\d{1,2}\.\d{1,2}\.\d{4}|\d{4}-\d{1,2}-\d{1,2}`)
	dottedClock  = regexp.MustCompile(`^[ ,;]*\d{1,2}\.\d{2}\b`)
	header       = regexp.MustCompile(`(?i)^ *(time|date|clock) *,`)
)

// commasPart reports whether a row of the file shows that commas between digits part cells:
// points stand in the same row, or the heading has commas.
func commasPart(text string) bool {
	for _, row := range lines(text) {
		row = plainly.Replace(row)
		if strings.HasPrefix(strings.TrimSpace(row), "#") {
			continue
		}
		if header.MatchString(row) || hasPoint(row) && decimalComma.MatchString(row) && !strings.Contains(row, ";") {
			return true
		}
	}
	return false
}

// hasPoint reports whether a row has a decimal point; those of dates and times are none.
func hasPoint(row string) bool {
	return decimalPoint.MatchString(dottedClock.ReplaceAllString(dottedDate.ReplaceAllString(row, ""), ""))
}

// cells parts a row. Semicolons, tabs and upright strokes always part. A comma between two
// digits is a decimal comma where something else parts the row, and parts where the row has
// decimal points or the file shows that commas do.
func cells(row string, commasPart bool) ([]string, error) {
	row = strings.TrimSpace(plainly.Replace(row))
	switch {
	case strings.Contains(row, ";"):
		return trimmed(strings.Split(row, ";")), nil
	case !strings.Contains(row, ","):
		return strings.Fields(row), nil
	case commasPart || hasPoint(row):
		return trimmed(strings.Split(row, ",")), nil
	case strings.Contains(row, ", ") || strings.Contains(row, ",,") || strings.HasSuffix(row, ","):
		return trimmed(split(row)), nil
	case strings.Contains(row, " "):
		return strings.Fields(row), nil
	case decimalComma.MatchString(row):
		return nil, fmt.Errorf("%q may part at each comma or not: write decimal points, or part the cells by semicolons", row)
	}
	return trimmed(strings.Split(row, ",")), nil
}

// split parts at every comma that does not stand between two digits.
func split(row string) []string {
	var out []string
	from := 0
	for i := range len(row) {
		if row[i] == ',' && !(i > 0 && i+1 < len(row) && isDigit(row[i-1]) && isDigit(row[i+1])) {
			out = append(out, row[from:i])
			from = i + 1
		}
	}
	return append(out, row[from:])
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func trimmed(cells []string) []string {
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	return cells
}

// isMissing reports whether a cell says that nothing was written down.
func isMissing(cell string) bool {
	switch strings.ToLower(cell) {
	case "", "-", "--", "\u2013", "\u2014", "?", "n/a", "na", "nan", "x", ".":
		return true
	}
	return false
}
