package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Log is what readings written down at the bench say.
type Log struct {
	Readings         int          `json:"readings"`
	Off              []int        `json:"rows_after_a_break,omitempty"` // the time before them counts as switched off
	ConductivityMSCM *Band        `json:"conductivity_ms_cm_20c,omitempty"`
	CrustOhmAH       *float64     `json:"crust_ohm_per_a_h,omitempty"` // that the rod gains
	CrustOhm         *float64     `json:"crust_ohm,omitempty"`         // at the last reading
	Stations         []LogStation `json:"stations"`
	Findings         []Finding    `json:"findings"`
}

// LogStation is what a station has had.
type LogStation struct {
	Name      string  `json:"name"`
	ChargeAH  float64 `json:"charge_a_h"`
	PlannedAH float64 `json:"planned_a_h"`
	HoursLeft float64 `json:"hours_left"` // at the last current
}

// Finding is what a reading looks like.
type Finding struct {
	Number int    `json:"number"` // as in the picture
	Row    int    `json:"row"`    // of the file
	Time   string `json:"time"`
	Text   string `json:"text"`
}

func (t *table) log(l *Log) {
	if l == nil {
		return
	}
	t.heading("readings")
	t.row("read", "%s", plural(l.Readings, "row"))
	if l.ConductivityMSCM != nil {
		t.row("bath", "%s mS/cm at 20 degC fits them", l.ConductivityMSCM.text())
		t.row("rod", "gains %s ohm of crust with each A h, has %s ohm now", figure(*l.CrustOhmAH), figure(*l.CrustOhm))
	}
	for _, s := range l.Stations {
		name := s.Name
		if name == "" {
			name = "charge"
		}
		t.row(name, "%s A h of %s A h planned, %s h left at the last current", figure(s.ChargeAH), figure(s.PlannedAH), figure(s.HoursLeft))
	}
	if len(l.Off) > 0 {
		rows := make([]string, len(l.Off))
		for i, row := range l.Off {
			rows[i] = strconv.Itoa(row)
		}
		t.row("breaks", "before row %s: longer than a session, counted as switched off", strings.Join(rows, ", "))
	}
	t.heading("what the numbers look like")
	for _, f := range l.Findings {
		t.row(fmt.Sprintf("%d  %s", f.Number, f.Time), "%s (row %d)", f.Text, f.Row)
	}
	if len(l.Findings) == 0 {
		t.row("", "nothing: no row has amps")
	}
}

// LogRow is a reading as it was understood; a figure that was not written down is NaN.
type LogRow struct {
	Row                  int // of the file
	Hours                float64
	Volts, Amps, Celsius float64
	Station              string
	ChargeAH             float64 // at its station up to here
	Scrubbed             bool
	Note                 string
}

// ReadingsCSV returns readings.csv, a row for each of them; what was not written down is empty.
func ReadingsCSV(rows []LogRow) []byte {
	var out strings.Builder
	out.WriteString("row,time_h,volts_v,amps_a,temperature_c,station,charge_a_h,scrubbed,note\n")
	cell := func(x float64) string {
		if math.IsNaN(x) {
			return ""
		}
		return strconv.FormatFloat(round(x), 'g', digits, 64)
	}
	for _, e := range rows {
		fmt.Fprintf(&out, "%d,%s,%s,%s,%s,%s,%s,%t,%s\n", e.Row, cell(e.Hours), cell(e.Volts), cell(e.Amps), cell(e.Celsius),
			quoted(e.Station), cell(e.ChargeAH), e.Scrubbed, quoted(e.Note))
	}
	return []byte(out.String())
}

// quoted writes a text as a cell.
func quoted(text string) string {
	if !strings.ContainsAny(text, ",\"\n") {
		return text
	}
	return `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
}
