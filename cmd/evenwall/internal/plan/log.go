package plan

import (
	"context"
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/readings"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/bath"
	"evenwall/render"
)

// Log holds what was written down against the plan: the charge of each station, what the
// bath and the rod are like, what the numbers look like, and the hours left.
func Log(ctx context.Context, j *job.Job, rows []readings.Row, show Progress) (*report.Answer, error) {
	w, err := newWork(ctx, j, show)
	if err != nil {
		return nil, err
	}
	trial, err := bench.Try(w.job, w.stations, rows)
	if err != nil {
		return nil, err
	}
	show("drawing", len(w.stations), len(w.stations)+1)
	first := w.tanks[0]
	r := first.result("log", j.First().Anodes)
	r.Warnings, r.Log = w.warnings, w.log(trial)
	picture, err := render.Log(w.logScene(trial), render.Settings{})
	if err != nil {
		return nil, fmt.Errorf("the picture of the readings: %w", err)
	}
	return &report.Answer{
		Result: r, Pictures: []report.Picture{{Name: report.LogPicture, Image: picture}},
		Papers: []report.Paper{{Name: report.ReadingsFile, Data: report.ReadingsCSV(w.entries(trial))}},
	}, nil
}

// log gathers what the readings say.
func (w *work) log(t *bench.Trial) *report.Log {
	out := &report.Log{Readings: len(t.Points), Off: t.Off()}
	if f := t.Fit; f.Rows > 0 {
		kappa := bandOf(f.Conductivity, 10)
		out.ConductivityMSCM, out.CrustOhmAH, out.CrustOhm = &kappa, &f.Crust, &f.Now
	}
	for i := range w.stations {
		m := t.Made[i]
		out.Stations = append(out.Stations, report.LogStation{Name: w.stations[i].Name, ChargeAH: m.Charge, PlannedAH: m.Planned, HoursLeft: m.Left / 3600})
	}
	for i, f := range t.Findings {
		out.Findings = append(out.Findings, report.Finding{Number: i + 1, Row: f.Line, Time: clockOf(f.Time), Text: f.Text})
	}
	return out
}

// clockOf writes seconds since the first midnight as a time of day, with the day from the second
// on.
func clockOf(seconds float64) string {
	minutes := int(seconds / 60)
	text := fmt.Sprintf("%02d:%02d", minutes/60%24, minutes%60)
	if day := minutes / (24 * 60); day > 0 {
		text = fmt.Sprintf("day %d, %s", day+1, text)
	}
	return text
}

// entries returns the rows as they were understood.
func (w *work) entries(t *bench.Trial) []report.LogRow {
	out := make([]report.LogRow, len(t.Points))
	for i := range t.Points {
		p := &t.Points[i]
		out[i] = report.LogRow{Row: p.Line, Hours: p.Time / 3600, Volts: p.Volts, Amps: p.Amps, Celsius: math.NaN(),
			Station: w.stations[p.Station].Name, ChargeAH: p.Charge, Scrubbed: p.Scrubbed, Note: p.Note}
		if p.HasKelvin() {
			out[i].Celsius = bath.Celsius(p.Kelvin)
		}
	}
	return out
}

// logScene returns what the picture of the readings shows.
func (w *work) logScene(t *bench.Trial) render.LogScene {
	amps := render.LogCurve{Name: "amps", Zero: true, Bands: w.expected(t, func(r bench.Readings) bath.Range { return r.Amps })}
	volts := render.LogCurve{Name: "volts, rod to tank", Bands: w.expected(t, func(r bench.Readings) bath.Range { return r.Across })}
	warmth := render.LogCurve{Name: "temperature of the bath, °C"}
	off := map[int]bool{}
	for _, line := range t.Off() {
		off[line] = true
	}
	station := -1
	for i := range t.Points {
		p := &t.Points[i]
		at := render.LogPoint{Hours: p.Time / 3600, Broken: off[p.Line] || p.Station != station}
		station = p.Station
		add := func(c *render.LogCurve, has bool, value float64) {
			if has {
				at.Value = value
				c.Points = append(c.Points, at)
			}
		}
		add(&amps, p.HasAmps(), p.Amps)
		add(&volts, p.HasVolts(), p.Volts)
		add(&warmth, p.HasKelvin(), bath.Celsius(p.Kelvin))
	}
	s := render.LogScene{Title: w.job.Title, Curves: []render.LogCurve{amps, volts, warmth}}
	for i, f := range t.Findings {
		s.Marks = append(s.Marks, render.LogMark{Hours: f.Time / 3600, Number: i + 1})
		s.Notes = append(s.Notes, clockOf(f.Time)+": "+f.Text)
	}
	return s
}

// expected returns the bands of the settled readings, a stretch for each time that a station
// was worked at.
func (w *work) expected(t *bench.Trial, of func(bench.Readings) bath.Range) []render.LogBand {
	var out []render.LogBand
	for i := range t.Points {
		p := &t.Points[i]
		h := p.Time / 3600
		if n := len(out); n > 0 && t.Points[i-1].Station == p.Station {
			out[n-1].To = h
			continue
		}
		r := of(w.stations[p.Station].Settled(w.job))
		name := ""
		if len(w.stations) > 1 {
			name = w.stations[p.Station].Name
		}
		out = append(out, render.LogBand{From: h, To: h, Low: r.Low, High: r.High, Name: name})
	}
	return out
}
