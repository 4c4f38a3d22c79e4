package report

import (
	"encoding/csv"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The figures are made up; only their form is under test.
func TestBenchInTheSummary(t *testing.T) {
	soda := Band{60, 61, 62}
	a := example("sheet")
	a.Result.Bench = &Bench{SodaG: &soda, SodaForm: "anhydrous", ConductivityMSCM: Band{5, 6, 7}, TemperatureC: 15, MassKG: Band{17, 18, 19},
		Stations: []BenchStation{{Name: "first", Hours: Band{7, 20, 60}, Sessions: 1, SettledA: Band{2, 3, 4}, RodLeft: 0.4}, {Sessions: 5, RodsInTurn: 3}}}
	text := Summary(a)
	for _, want := range []string{"weigh out            61.0 (60.0 to 62.0) g of anhydrous", "6.00 (5.00 to 7.00) mS/cm at 15.0 degC",
		"first                20.0 (7.00 to 60.0) h, in 1 session", "settled 3.00 (2.00 to 4.00) A", "40.0 % of it is left at least", "up to 3 rods in all", "in 5 sessions", "lower bounds"} {
		assert.Contains(t, text, want)
	}
	data, err := a.Result.JSON()
	require.NoError(t, err)
	assert.Contains(t, string(data), `"settled_a": [`)
}

func TestLogInTheSummary(t *testing.T) {
	kappa, crust := Band{5, 6, 7}, 0.1
	a := example("log")
	a.Result.Log = &Log{Readings: 3, Off: []int{4, 9}, ConductivityMSCM: &kappa, CrustOhmAH: &crust, CrustOhm: &crust,
		Stations: []LogStation{{ChargeAH: 12.5, PlannedAH: 80, HoursLeft: 17}}, Findings: []Finding{{1, 6, "23:50", "the rod is crusted"}}}
	text := Summary(a)
	for _, want := range []string{"3 rows", "before row 4, 9: longer than a session", "12.5 A h of 80.0 A h planned, 17.0 h left", "1  23:50             the rod is crusted (row 6)"} {
		assert.Contains(t, text, want)
	}
	a.Result.Log = &Log{}
	assert.Contains(t, Summary(a), "nothing: no row has amps")
}

// What was written down goes through CSV; what was not is empty.
func TestReadingsCSVReadsBack(t *testing.T) {
	rows := []LogRow{{Row: 2, Hours: 22.25, Volts: 9.8, Amps: 3.2, Celsius: math.NaN(), Station: `to the "front", left`, ChargeAH: 1.5, Scrubbed: true, Note: "scrubbed,\nand so on"}}
	back, err := csv.NewReader(strings.NewReader(string(ReadingsCSV(rows)))).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, []string{"row", "time_h", "volts_v", "amps_a", "temperature_c", "station", "charge_a_h", "scrubbed", "note"}, back[0])
	assert.Equal(t, []string{"2", "22.25", "9.8", "3.2", "", `to the "front", left`, "1.5", "true", "scrubbed,\nand so on"}, back[1])
}
