package bench

import (
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/readings"
)

// Trial is what was written down, held against the plan.
type Trial struct {
	Points   []Point
	Made     []Made // of each station, in the plan's order
	Fit      Fit
	Findings []Finding
}

// Point is a reading with what was worked out for it.
type Point struct {
	readings.Row
	Station int     // in the plan
	Charge  float64 // at its station up to here, A h
	Since   float64 // charge since the rod was last scrubbed, A h
	Age     float64 // s since then
	Counted bool    // the time since the row before is in Charge
	Spoilt  bool    // a short or reversed leads: its time is in no charge
}

// Made is what a station has had.
type Made struct {
	Charge  float64 // A h
	Planned float64 // A h; 0 when its time is not known
	Left    float64 // s at the last current; 0 when reached
	Amps    float64 // the last that flowed, A; the expected ones before any
}

// NoStationError is a reading at a station that the plan does not have.
type NoStationError struct {
	Line  int
	Name  string
	Known []string
}

// Error names the row and the stations that there are.
func (e *NoStationError) Error() string {
	return fmt.Sprintf("row %d: the plan has no station %q: it has %q", e.Line, e.Name, e.Known)
}

// Try holds readings against the plan of a job's stations. Rows that name no station
// belong to the first.
func Try(j *job.Job, stations []Station, rows []readings.Row) (*Trial, error) {
	t := &Trial{Made: make([]Made, len(stations))}
	if err := t.place(stations, rows); err != nil {
		return nil, err
	}
	t.spoilt(t.judging(j, stations))
	t.count(Session(j))
	t.Fit = fit(j, stations, t.Points)
	for i := range stations {
		s, m := &stations[i], &t.Made[i]
		m.Planned = s.Charge()
		if m.Amps == 0 {
			m.Amps = s.Settled(j).Amps.Mid
		}
		if m.Planned > m.Charge && m.Amps > 0 {
			m.Left = (m.Planned - m.Charge) / m.Amps * 3600
		}
	}
	t.judge(j, stations)
	return t, nil
}

// place puts every row to its station.
func (t *Trial) place(stations []Station, rows []readings.Row) error {
	var known []string
	number := map[string]int{}
	for i := range stations {
		known = append(known, stations[i].Name)
		number[stations[i].Name] = i
		if _, taken := number[fmt.Sprint(i+1)]; !taken {
			number[fmt.Sprint(i+1)] = i
		}
	}
	for _, r := range rows {
		at := 0
		if r.Station != "" {
			i, ok := number[r.Station]
			if !ok {
				return &NoStationError{r.Line, r.Station, known}
			}
			at = i
		}
		t.Points = append(t.Points, Point{Row: r, Station: at})
	}
	return nil
}

// count sums the charge by the trapezium rule. Rows without amps are bridged; what went through a short
// or the wrong way counts for nothing; a gap of more
// than gap seconds, or to another station, counts as switched off.
func (t *Trial) count(gap float64) {
	last := -1 // row with amps before
	for i := range t.Points {
		p := &t.Points[i]
		made := &t.Made[p.Station]
		p.Charge = made.Charge
		if last >= 0 && t.Points[last].Station == p.Station {
			before := &t.Points[last]
			p.Since, p.Age = before.Since, before.Age+p.Time-before.Time
			if p.HasAmps() && p.Time-before.Time <= gap+1 && !p.Spoilt && !before.Spoilt {
				add := math.Max(0, (before.Amps+p.Amps)/2) * (p.Time - before.Time) / 3600
				p.Charge, p.Since, p.Counted = p.Charge+add, p.Since+add, true
			}
		}
		if p.Scrubbed {
			p.Since, p.Age = 0, 0
		}
		made.Charge = p.Charge
		if p.HasAmps() {
			last = i
			if p.Amps > 0 && !p.Spoilt {
				made.Amps = p.Amps
			}
		} else if p.Scrubbed && last >= 0 && t.Points[last].Station == p.Station {
			t.Points[last].Since, t.Points[last].Age = 0, t.Points[last].Time-p.Time
		}
	}
}

// Off returns the rows before which the current counts as switched off although time went by
// at the same station, by their line.
func (t *Trial) Off() []int {
	var out []int
	for i := 1; i < len(t.Points); i++ {
		p, before := &t.Points[i], &t.Points[i-1]
		if p.Station == before.Station && p.HasAmps() && before.HasAmps() && !p.Counted && !p.Spoilt && !before.Spoilt && p.Time > before.Time {
			out = append(out, p.Line)
		}
	}
	return out
}
