package readings

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

var (
	clockText = regexp.MustCompile(`(?i)^(\d{1,2})[:.h](\d{2})(?::(\d{2}))?h? *([ap])?\.?(m)?\.?$`)
	isoDate   = regexp.MustCompile(`^(\d{4})-(\d{1,2})-(\d{1,2})$`)
	dotDate   = regexp.MustCompile(`^(\d{1,2})\.(\d{1,2})\.(\d{4})$`)
)

const dayLength = 24 * 3600

// ofDay reads a time of day, s since midnight.
func ofDay(text string) (float64, error) {
	m := clockText.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return 0, fmt.Errorf("%q is no time: give such as 22:15, or with its date 2026-11-25 22:15", text)
	}
	h, _ := strconv.Atoi(m[1])
	min, _ := strconv.Atoi(m[2])
	s, _ := strconv.Atoi(m[3]) // none is 0
	half := strings.ToLower(m[4])
	if half != "" && (h < 1 || h > 12) || min > 59 || s > 59 || h > 24 || h == 24 && min+s > 0 {
		return 0, fmt.Errorf("%q is no time of day", text)
	}
	if half != "" {
		h = h%12 + map[string]int{"a": 0, "p": 12}[half]
	}
	return float64(h*3600 + min*60 + s), nil
}

// dayOf reads a date as a count of days.
func dayOf(text string) (int, error) {
	year, month, day := 0, 0, 0
	if m := isoDate.FindStringSubmatch(text); m != nil {
		year, _ = strconv.Atoi(m[1])
		month, _ = strconv.Atoi(m[2])
		day, _ = strconv.Atoi(m[3])
	} else if m := dotDate.FindStringSubmatch(text); m != nil {
		day, _ = strconv.Atoi(m[1])
		month, _ = strconv.Atoi(m[2])
		year, _ = strconv.Atoi(m[3])
	} else {
		return 0, fmt.Errorf("%q is no date: give such as 2026-11-25", text)
	}
	at := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if at.Day() != day || int(at.Month()) != month {
		return 0, fmt.Errorf("%q is no day of the calendar", text)
	}
	return int(at.Unix() / dayLength), nil
}

// isDate reports whether a cell looks like a date.
func isDate(cell string) bool { return isoDate.MatchString(cell) || dotDate.MatchString(cell) }

// calendar counts days while times of day go by.
type calendar struct {
	day     int // of the row before
	last    float64
	started bool
	dated   bool
	first   int // day of the first row
}

// longestGap is how far apart two rows without dates may be, s, before the clock is not
// trusted to have gone round only once.
const longestGap = 18 * 3600

// at returns the seconds since midnight before the first row for a time of day; day is that of its
// date, when it has one.
func (c *calendar) at(of float64, day int, dated bool) (float64, error) {
	switch {
	case !c.started:
		c.started, c.dated = true, dated
		if dated {
			c.day, c.first = day, day
		}
	case dated && !c.dated:
		return 0, fmt.Errorf("has a date and the rows before have none: date the first row too")
	case dated:
		c.day = day
	case of < c.last-float64((c.day-c.first)*dayLength):
		c.day++
	}
	t := float64((c.day-c.first)*dayLength) + of
	if t < c.last {
		return 0, fmt.Errorf("goes back behind the row before: put the rows in order, or mend its date")
	}
	if !dated && c.last > 0 && t-c.last > longestGap {
		return 0, fmt.Errorf("goes back, or comes more than %d h after the row before: put the rows in order, or write the date before the time", longestGap/3600)
	}
	c.last = t
	return t, nil
}
