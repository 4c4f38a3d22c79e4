package readings

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const none = math.MaxFloat64 // stands for a figure that was not written down

// said is a row by hand: seconds from midnight, V, A, degC.
type said struct{ time, volts, amps, celsius float64 }

const hour = 3600.0

func TestRowsAsPeopleWriteThem(t *testing.T) {
	full := []said{{22.25 * hour, 9.8, 3.2, 21}}
	for text, want := range map[string][]said{
		"22:15; 9.8; 3.2; 21":                                     full,
		"22:15;9,8;3,2;21":                                        full,
		"22:15\t9,8\t3,2\t21":                                     full,
		"22:15 9.8 3.2 21":                                        full,
		"22:15   9,8 3,2   21":                                    full,
		"22.15 9,8 3,2 21":                                        full,
		"22h15 9.8 3.2 21":                                        full,
		"10:15 pm 9.8 3.2 21":                                     full,
		"22:15,9.8,3.2,21":                                        full,
		"22:15, 9.8, 3.2, 21":                                     full,
		"22:15, 9,8, 3,2, 21":                                     full,
		"22:15 | 9.8 | 3.2 | 21":                                  full,
		"22:15;9.8;3,2;21":                                        full,
		"22:15 9.8 V 3.2 A 21 \u00b0C":                            full,
		"22:15 9.8V 3200mA 69.8F":                                 full,
		"22:15 3.2A 9.8V 21C":                                     full, // a unit goes before its place
		"2026-11-25 22:15 9.8 3.2 21":                             full,
		"2026-11-25T22:15;9,8;3,2;21":                             full,
		"25.11.2026 22:15 9,8 3,2 21":                             full,
		"\ufefftime;volts;amps;temp\r\n22:15;9,8;3,2;21\r\n":      full,
		"time,amps,volts,temperature\n22:15,3.2,9.8,21":           full,
		"temp (\u00b0F);amps;volts;time\n69,8;3,2;9,8;22:15":      full,
		"date;time;volts;amps;temp\n2026-11-25;22:15;9,8;3,2;21":  full,
		"# a remark\n\n22:15 9.8 3.2 21 scrubbed the rod 2 times": full,
		"time,volts,amps\n22:15,9,3":                              {{22.25 * hour, 9, 3, none}},
		"22:15;;3.2;":                                             {{22.25 * hour, none, 3.2, none}},
		"22:15 - 3.2":                                             {{22.25 * hour, none, 3.2, none}},
		"22:15,,3,2,":                                             {{22.25 * hour, none, 3.2, none}},
		"22:15 9.8 \u22123.2":                                     {{22.25 * hour, 9.8, -3.2, none}},
		"23:50 9.8 3.2\n24:00 9.8 3.1\n0:10 9.7 3.0":              {{23*hour + 3000, 9.8, 3.2, none}, {24 * hour, 9.8, 3.1, none}, {24*hour + 600, 9.7, 3.0, none}},
		"12:30 am 9 3\n12:30 pm 9 3":                              {{0.5 * hour, 9, 3, none}, {12.5 * hour, 9, 3, none}},
		"2026-11-25 22:00 9 3\n2026-11-28 8:00 9 2":               {{22 * hour, 9, 3, none}, {80 * hour, 9, 2, none}},
	} {
		rows, err := Parse("log.csv", text)
		if !assert.NoError(t, err, "%q", text) || !assert.Len(t, rows, len(want), "%q", text) {
			continue
		}
		for i, w := range want {
			same(t, w.time, rows[i].Time, text)
			same(t, w.volts, rows[i].Volts, text)
			same(t, w.amps, rows[i].Amps, text)
			if w.celsius != none {
				same(t, w.celsius+273.15, rows[i].Kelvin, text)
			} else {
				assert.False(t, rows[i].HasKelvin(), text)
			}
		}
	}
}

func same(t *testing.T, want, got float64, text string) {
	t.Helper()
	if want == none {
		assert.True(t, math.IsNaN(got), "%q", text)
		return
	}
	assert.InDelta(t, want, got, 1e-9, "%q", text)
}

func TestRowsThatCannotBeTold(t *testing.T) {
	for text, want := range map[string]string{
		"22:15,9,8,3,2":         "log.csv:1: \"22:15,9,8,3,2\" may part at each comma or not",
		"22:15 9.8 3.2 21 7":    "log.csv:1: has 5 cells and \"7\" is one too many",
		"time,volts\n22:15,9,8": "log.csv:2: has 3 cells and \"8\" is one too many",
		"9.8; 3.2":              "log.csv:1: \"9.8\" is no time",
		"25:15 9 3":             "log.csv:1: \"25:15\" is no time of day",
		"22:15 980 3":           "log.csv:1: 980 is outside -60 to 60 V: look whether a point",
		"22:15 9.8W 3":          "has the unit \"W\"",
		"22:15 9..8 3":          "\"9..8\" is no reading",
		"22:15 9 3\n22:05 9 3":  "log.csv:2: 22:05 goes back, or comes more than 18 h",
		"2026-11-25 9:00 9 3\n2026-11-24 9:00 9 3": "goes back behind the row before",
		"2026-02-30 9:00 9 3":                      "is no day of the calendar",
		"9:00 9 3\n2026-11-25 9:30 9 3":            "date the first row too",
		"22:15 9 3A 3A":                            "on top of another figure",
		";9;3":                                     "has no time",
		"":                                         "log.csv: holds no readings",
		"22:15 9 x\n22:20 9,8.1 3\n23:0 9 3":       "log.csv:3: \"23:0\" is no time",
	} {
		_, err := Parse("some/log.csv", text)
		assert.ErrorContains(t, err, want, "%q", text)
		var e *Error
		assert.True(t, errors.As(err, &e))
	}
}

func TestStationsAndScrubbingAreKept(t *testing.T) {
	rows, err := Parse("log.csv", "station: to the front\n8:00 9 3\n9:00 9 2.5 - scrubbed\nStation to the rear\n10:00 9 3\n")
	require.NoError(t, err)
	assert.Equal(t, []string{"to the front", "to the front", "to the rear"}, []string{rows[0].Station, rows[1].Station, rows[2].Station})
	assert.Equal(t, []bool{false, true, false}, []bool{rows[0].Scrubbed, rows[1].Scrubbed, rows[2].Scrubbed})
	assert.Equal(t, 3, rows[1].Line)
}

func TestLoadNamesAMissingFile(t *testing.T) {
	_, err := Load(filepath.Join(t.TempDir(), "none.csv"))
	assert.ErrorContains(t, err, "there is no such file")
	path := filepath.Join(t.TempDir(), "log.csv")
	require.NoError(t, os.WriteFile(path, []byte("8:00 9 3"), 0o644))
	rows, err := Load(path)
	require.NoError(t, err)
	assert.Len(t, rows, 1)
}

// Whatever the bytes: rows with rising times and figures a bench can show, or faults.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{"22:15; 9.8; 3.2; 21", "time,volts\n1:0,9,8", "23:50 9,8 3,2\n0:10 - 3", "2026-11-25T22:15;9,8;3,2;21 C", ", ,;\t", "station: x\n12:00 pm 1 1 1 y"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := Parse("x.csv", text)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		last := 0.0
		for _, r := range rows {
			if !(r.Time >= last) || math.IsInf(r.Volts, 0) || math.IsInf(r.Amps, 0) || math.IsInf(r.Kelvin, 0) {
				t.Fatalf("%+v after %g s", r, last)
			}
			last = r.Time
		}
	})
}
