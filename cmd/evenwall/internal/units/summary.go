package units

import (
	"regexp"
	"strconv"
)

// turn is a metric unit as summaries write it, and what becomes of it.
type turn struct {
	from, to string
	factor   float64
	offset   float64
}

// turns are tried in this order at each number: longer names before those they begin with.
func turns() []turn {
	return []turn{
		{"A h/m2", "A h/ft2", foot * foot, 0}, {"A/m2", "A/ft2", foot * foot, 0},
		{"m3/h", "cfm", 1 / (foot * foot * foot * 60), 0},
		{"mm", "in", 1e-3 / inch, 0}, {"m2", "ft2", 1 / (foot * foot), 0}, {"cm2", "in2", 1e-4 / (inch * inch), 0},
		{"g/L", "oz/gal", gallon * 16 / pound, 0}, {"g/h", "oz/h", 1e-3 * 16 / pound, 0}, {"L/h", "gal/h", 1e-3 / gallon, 0}, {"mL", "fl oz", 1e-6 * 128 / gallon, 0}, {"L", "gal", 1e-3 / gallon, 0},
		{"kg", "lb", 1 / pound, 0}, {"g", "oz", 1e-3 * 16 / pound, 0},
		{"m", "ft", 1 / foot, 0}, {"degC", "degF", 1.8, 32},
	}
}

// number is a decimal as summaries write it.
const number = `-?\d+(?:\.\d+)?(?:e[+-]?\d+)?`

// quantity is a number before a metric unit, or several that share one: a list, a range, a
// middle with its band in brackets. Places in square brackets come first: they are in the
// tank's own frame and stay as they are.
var (
	quantity = regexp.MustCompile(`(\[[^\]]*\] mm)|(` + number + `(?:(?: to | and |, | \()` + number + `)*)(\)?) (A h/m2|A/m2|m3/h|mm|m2|cm2|g/L|g/h|L/h|mL|L|kg|g|m|degC)\b`)
	digits   = regexp.MustCompile(number)
)

// Summary returns a summary in the system's units: every number before a metric unit is
// turned, to three digits; places in square brackets stay in mm, as the job file has them.
func (s System) Summary(text string) string {
	if s == Metric {
		return text
	}
	return quantity.ReplaceAllStringFunc(text, func(found string) string {
		m := quantity.FindStringSubmatch(found)
		for _, t := range turns() {
			if m[1] == "" && t.from == m[4] {
				return digits.ReplaceAllStringFunc(m[2], t.number) + m[3] + " " + t.to
			}
		}
		return found
	})
}

func (t turn) number(text string) string {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x*t.factor+t.offset, 'g', 3, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
