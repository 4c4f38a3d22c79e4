package bench

import (
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
)

// Gas is what comes out of the bath, and what has to be kept from it.
type Gas struct {
	Hydrogen, Oxygen bath.Range // L/h at the bath's temperature
	Air              bath.Air   // for the most current, m³/s: lower bounds
	Spark            float64    // least distance of flames and sparks, m
	Held             []Held     // pockets, headspace and riser
}

// Held is gas that a place may hold.
type Held struct {
	Place   string
	Volume  float64    // m³
	Energy  bath.Range // J when it burns: two parts hydrogen to one of oxygen
	Soonest float64    // s until it is full if all the gas of the bath went there
}

// Gas returns the gas of a station.
func (s *Station) Gas(j *job.Job) Gas {
	amps, t := s.Settled(j).Amps, j.Bath.Kelvin()
	perHour := func(of func(bath.Gas) float64) bath.Range {
		rate := func(a float64) float64 { return of(bath.Evolved(a, t, bath.Atmosphere)) * 3600e3 }
		return bath.Range{Low: rate(amps.Low), Mid: rate(amps.Mid), High: rate(amps.High)}
	}
	g := Gas{
		Hydrogen: perHour(func(g bath.Gas) float64 { return g.Hydrogen }),
		Oxygen:   perHour(func(g bath.Gas) float64 { return g.Oxygen }),
		Air:      bath.AirFor(amps.High, t),
		Spark:    bath.SparkDistance(amps.High),
	}
	add := func(place string, volume float64) {
		if volume > 0 {
			g.Held = append(g.Held, Held{place, volume, bath.Energy(volume, t), volume / bath.Evolved(amps.High, t, bath.Atmosphere).Total()})
		}
	}
	for _, p := range s.Pockets {
		add("pocket", p)
	}
	if s.Headspace > 1e-6 {
		add("steel above the level", s.Headspace)
	}
	if r := j.Riser; r.Height > 0 {
		add("riser, with its froth", math.Pi/4*r.Bore*r.Bore*r.Height)
	}
	return g
}

// Limit is something that the plan is held against; a sheet is made only when all are met.
type Limit struct {
	Name  string
	Value float64
	Most  float64
	Unit  string
	Met   bool
}

// Limits holds the gas that the steel would keep against what a plan may have.
func (s *Station) Limits(j *job.Job) []Limit {
	largest, all := 0.0, 0.0
	for _, p := range s.Pockets {
		largest, all = max(largest, p), all+p
	}
	limit := func(name string, volume, most float64) Limit {
		return Limit{name, 1e3 * volume, 1e3 * most, "L", volume <= most*(1+1e-9)}
	}
	out := []Limit{
		limit("gas that one pocket of the steel would hold", largest, bath.MostInPocket),
		limit("gas that all pockets would hold", all, bath.MostInPockets),
	}
	if j.Bath.Headspace == "" {
		out = append(out, limit("steel above the level, without a reason in bath.headspace", s.Headspace, bath.MostInPocket))
	}
	return out
}
