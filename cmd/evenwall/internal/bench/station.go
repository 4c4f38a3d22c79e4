package bench

import (
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
)

// Station is a position of the rods as its field was solved, with everything at the
// middle of its range.
type Station struct {
	Name     string
	Attitude job.Attitude
	Anodes   []job.Anode
	WayIn    [][]string // of each anode: how it is threaded in, step by step; empty for one that goes straight in
	RodAmps  []float64  // of each rod, A
	Planned  float64    // time by the job, s; 0 when it does not say
	Finish   float64    // time until the aim's share of what these rods reach has its charge, s; 0: never
	Reached  float64    // share of the wetted wall that gets the aim's least or more

	Amps   float64 // A
	Across float64 // over liquid and electrode laws, V
	Liquid float64 // ohm of the liquid alone
	Dead   float64 // V

	Wetted    float64   // wall under the liquid, m²
	Volume    float64   // of liquid, m³
	Height    float64   // of the liquid above the lowest inside point as propped, m
	Headspace float64   // inside of the steel above the level, m³
	Pockets   []float64 // steel that holds gas below the level, m³
}

// Seconds returns the time planned, s: by the job, or by the aim when it does not say; 0
// when there is none.
func (s *Station) Seconds() float64 {
	if s.Planned > 0 {
		return s.Planned
	}
	return s.Finish
}

// chemistry is the factor either way by which the charge that rust needs is known (common
// practice, no source).
const chemistry = 3

// Hours returns the time with its band, h.
func (s *Station) Hours() bath.Range {
	h := s.Seconds() / 3600
	return bath.Range{Low: h / chemistry, Mid: h, High: h * chemistry}
}

// Charge returns the charge planned, A h.
func (s *Station) Charge() float64 { return s.Amps * s.Seconds() / 3600 }

// Defaults of the timetable (common practice, no source).
const (
	usualSession = 4 * 3600.0 // s attended at a stretch
	usualFallen  = 0.25       // of the settled current gone: scrub the rod
	scrubEvery   = 3 * 3600.0 // s at the latest, in a tank
)

// Session returns how long somebody is there at a stretch, s.
func Session(j *job.Job) float64 {
	if j.Aim.Session > 0 {
		return j.Aim.Session
	}
	return usualSession
}

// Fallen returns the share of the settled current that is gone when the rod is scrubbed.
func Fallen(j *job.Job) float64 {
	if j.Aim.Fallen > 0 {
		return j.Aim.Fallen
	}
	return usualFallen
}

// Sessions returns how many attended sessions a station takes; 0 when its time is not known.
func (s *Station) Sessions(session float64) int { return int(math.Ceil(s.Seconds()/session - 1e-9)) }
