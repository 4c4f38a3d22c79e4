package job

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// A number is a decimal (1.5, -2e3) or a fraction with or without a whole part (3/8, 1 3/8).
var (
	decimal        = regexp.MustCompile(`^([+-]?(?:\d+\.?\d*|\.\d+))(?:[eE]([+-]?\d{1,6}))?$`)
	fraction       = regexp.MustCompile(`^([+-]?)(?:(\d+) +)?(\d+)/(\d+)$`)
	numberThenUnit = regexp.MustCompile(`^([+-]?(?:\d+ +\d+/\d+|\d+/\d+|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,6})?)) *(.*)$`)
)

// spellings brings the ways that people write a unit to the one in the tables.
var spellings = strings.NewReplacer("²", "2", "³", "3", "^2", "2", "^3", "3", "\u2126", "ohm", "\u03a9", "ohm",
	"\u00b5", "u", "\u03bc", "u", "·", " ", "*", " ", "°C", "degC", "°F", "degF", "°", "deg")

// parse reads text as a quantity of kind k and returns it in SI.
func (k kind) parse(text string) (float64, error) {
	match := numberThenUnit.FindStringSubmatch(strings.TrimSpace(text))
	if match == nil {
		return 0, k.noNumber(text)
	}
	name := strings.Join(strings.Fields(spellings.Replace(match[2])), " ")
	if name == "" {
		name = k.bare
	}
	if name == "" {
		return 0, fmt.Errorf("%s has no unit: a %s is given in %s, such as %s", text, k.noun, k.names(), k.example)
	}
	u, ok := k.find(name)
	if !ok && strings.HasPrefix(name, ",") {
		return 0, k.noNumber(text)
	}
	if !ok {
		return 0, fmt.Errorf("%q is no unit of a %s that is known here: give %s, such as %s", match[2], k.noun, k.names(), k.example)
	}
	si, ok := u.toSI(match[1])
	if !ok {
		return 0, k.noNumber(text)
	}
	if k.most > 0 && (si > k.most || si < -k.most) {
		return 0, fmt.Errorf("%s is beyond any %s that can be meant: the most is %s", text, k.noun, k.format(k.most))
	}
	return si, nil
}

func (k kind) noNumber(text string) error {
	if strings.Contains(text, ",") {
		return fmt.Errorf("%q is not a %s: write a decimal point, not a comma, such as %s", text, k.noun, k.example)
	}
	return fmt.Errorf("%q is not a finite %s: give a number in %s, such as %s", text, k.noun, k.names(), k.example)
}

// toSI converts a number in u, written as text; false when it is not a finite number.
func (u unit) toSI(text string) (float64, bool) {
	m := decimal.FindStringSubmatch(text)
	if m != nil && u.factor == 0 {
		x, ok := shifted(m[1], m[2], u.ten)
		return x + u.offset, ok
	}
	x, ok := ratio(text)
	if m != nil {
		x, ok = shifted(m[1], m[2], 0)
	}
	if u.factor != 0 {
		x *= u.factor
	}
	si := tenfold(x, u.ten) + u.offset
	return si, ok && !math.IsNaN(si) && !math.IsInf(si, 0)
}

// shifted returns the float64 nearest to mantissa · 10^(exponent+ten).
func shifted(mantissa, exponent string, ten int) (float64, bool) {
	e, err := strconv.Atoi(exponent)
	if exponent != "" && err != nil {
		return 0, false
	}
	x, err := strconv.ParseFloat(mantissa+"e"+strconv.Itoa(e+ten), 64)
	return x, err == nil
}

// tenfold returns x · 10^ten, rounded once: a negative power of ten is no float64.
func tenfold(x float64, ten int) float64 {
	if ten < 0 {
		return x / math.Pow10(-ten)
	}
	return x * math.Pow10(ten)
}

// ratio reads a fraction such as 3/8 or 1 3/8.
func ratio(text string) (float64, bool) {
	m := fraction.FindStringSubmatch(text)
	if m == nil {
		return 0, false
	}
	part := func(s string) float64 { x, _ := strconv.ParseFloat("0"+s, 64); return x }
	x := part(m[2]) + part(m[3])/part(m[4])
	if m[1] == "-" {
		x = -x
	}
	return x, true
}

// plain reads a number that has no unit, such as a part of a direction.
func plain(text string) (float64, error) {
	if x, ok := (unit{}).toSI(text); ok {
		return x, nil
	}
	return 0, fmt.Errorf("%q is not a finite number", text)
}

// format writes si so that parse reads the same float64 back: in the kind's first
// unit with as few digits as that takes, or in the unit that is SI itself where no
// number in the first unit rounds to si.
func (k kind) format(si float64) string {
	first := k.units[0]
	for digits := 1; digits <= 17; digits++ {
		text := first.write(si, digits)
		if back, ok := first.toSI(text); ok && back == si {
			return k.withUnit(text, first.name)
		}
	}
	for _, u := range k.units {
		if u.ten == 0 && u.factor == 0 && u.offset == 0 {
			return k.withUnit(strconv.FormatFloat(si, 'g', -1, 64), u.name)
		}
	}
	return k.withUnit(first.write(si, 17), first.name)
}

// write gives si in u as text of that many digits.
func (u unit) write(si float64, digits int) string {
	x := si - u.offset
	if u.factor != 0 {
		x /= u.factor
	}
	return shift(strconv.FormatFloat(x, 'e', digits-1, 64), -u.ten)
}

// shift multiplies a number in exponent form (d.ddde±dd) by 10^ten by moving its
// point, so that no rounding comes in; very large and small ones keep an exponent.
func shift(text string, ten int) string {
	mantissa, exponent, _ := strings.Cut(text, "e")
	e, _ := strconv.Atoi(exponent)
	e += ten
	sign, digits := "", strings.Replace(mantissa, ".", "", 1)
	if digits[0] == '-' {
		sign, digits = "-", digits[1:]
	}
	switch {
	case strings.Trim(digits, "0") == "":
		return sign + "0"
	case e < -7 || e > 20:
		return mantissa + "e" + strconv.Itoa(e)
	case e < 0:
		return sign + "0." + strings.Repeat("0", -e-1) + digits
	case len(digits) <= e+1:
		return sign + digits + strings.Repeat("0", e+1-len(digits))
	default:
		return sign + digits[:e+1] + "." + digits[e+1:]
	}
}

// mm writes a length for a message, with its unit.
func mm(si float64) string { return length.format(math.Round(si*1e9)/1e9) + " mm" }

func (k kind) withUnit(text, name string) string {
	if name == k.bare {
		return text
	}
	return text + " " + name
}
