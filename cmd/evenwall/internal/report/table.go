package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// table builds a summary: headings, and rows of a label and a text beside it.
type table struct{ strings.Builder }

const labelWidth = 20

func (t *table) heading(text string) { fmt.Fprintf(t, "\n%s\n", text) }

func (t *table) row(label, format string, args ...any) {
	fmt.Fprintf(t, "  %-*s %s\n", labelWidth, label, fmt.Sprintf(format, args...))
}

// figure writes x with three significant digits, without an exponent where it is of
// a size that people write out.
func figure(x float64) string {
	const significant = 3
	size := math.Abs(x)
	switch {
	case x == 0:
		return "0"
	case size >= 1e6 || size < 1e-4:
		return strconv.FormatFloat(x, 'e', significant-1, 64)
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', significant-1, 64), 64)
	places := significant - 1 - int(math.Floor(math.Log10(math.Abs(rounded))))
	return strconv.FormatFloat(rounded, 'f', max(places, 0), 64)
}

// percent writes a fraction, 0 to 1, as a percentage.
func percent(fraction float64) string { return strconv.FormatFloat(fraction*100, 'f', 1, 64) + " %" }

// mm1 writes a length given in mm.
func mm1(x float64) string { return strconv.FormatFloat(x+0, 'f', 1, 64) + " mm" }

// text writes a point.
func (p Point) text() string {
	whole := func(mm float64) float64 { return math.Round(mm) + 0 } // no minus before a zero
	return fmt.Sprintf("[%.0f, %.0f, %.0f] mm", whole(p[0]), whole(p[1]), whole(p[2]))
}

// plural writes a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// tenths turns mm into m, rounded to a tenth of a millimetre, as a person would type it.
func tenths(mm float64) float64 { return placed(mm, 1, "e-3") }

// placed rounds x to so many decimal places, then takes it times the power of ten.
func placed(x float64, places int, power string) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', places, 64)+power, 64)
	return y + 0
}
