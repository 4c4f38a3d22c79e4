package search

import (
	"context"
	"errors"
	"fmt"

	"evenwall/field/station"
	"evenwall/geometry"
)

// Problem is what a layout is looked for.
type Problem struct {
	Space     Space
	Evaluator Evaluator
	Area      []float64 // of each patch of wall, as Exposure.Rate numbers them, m²
	Weight    []float64 // by which each counts; nil: 1
	Counts    []bool    // wall that counts whatever rods here reach, as rods in another attitude reach it; nil: none
	Spare     []Spared
	Aim       station.Aim
	// Start holds layouts to begin from, such as the job's own: each is judged as it is,
	// and the result is never worse than the best of them that keeps the limits.
	Start [][]geometry.Rod
}

// Settings says how far a search goes. The zero value means the defaults, which suit an
// evaluator that takes some hundredths of a second: some 360 layouts come within about
// 3 % of what thousands find. One that takes less than a millisecond deserves ten times as many.
type Settings struct {
	Count      int     // rods at once, at most; 0: 1; no more than 3
	Reach      int     // layouts solved to find the reachable wall; 0: 96
	Scatter    int     // layouts solved all over the space; 0: 24
	Refine     int     // layouts solved in improving the best, for each rod; 0: 240
	Stations   int     // positions in turn, at most; 0: 1; no more than 6
	Price      float64 // what a further position must save, s; 0: 2 h, common practice, no source
	Climbers   int     // layouts improved side by side; 0: 3
	Keep       int     // alternatives returned; 0: 4
	Robust     bool    // the best is the one whose worst case within Space.Off is the best
	Finalists  int     // layouts whose worst case is looked at, for each number of rods; 0: 6
	Harden     int     // layouts whose worst case is looked at in improving the best of them; 0: 24
	Seed       uint64  // moves the scattered places; the reachable wall does not depend on it
	AnodeLimit float64 // greatest current density on a rod's metal, A/m²; 0: 1000, common practice, no source

	// Progress, where set, is told how far a stage has come, from the goroutine that called.
	Progress func(stage Stage, step, steps int)
}

func (s Settings) withDefaults() Settings {
	def := func(value *int, usual int) {
		if *value == 0 {
			*value = usual
		}
	}
	def(&s.Count, 1)
	def(&s.Reach, 96)
	def(&s.Scatter, 24)
	def(&s.Refine, 240)
	def(&s.Climbers, 3)
	def(&s.Keep, 4)
	def(&s.Finalists, 6)
	def(&s.Harden, 24)
	def(&s.Stations, 1)
	if s.Price == 0 {
		s.Price = Price
	}
	if s.AnodeLimit == 0 {
		s.AnodeLimit = 1000
	}
	return s
}

// Price is what a further position must save where the settings do not say, s: common practice,
// no source.
const Price = 2 * 3600

// Stage is a part of the work.
type Stage int

const (
	Reaching   Stage = iota // which wall any rod reaches
	Scattering              // places all over the space
	Refining                // the best places improved
	Bending                 // the best of straight ones bent once, and others
	Dividing                // bare stretches in two
	Hardening               // the best places held against the hand
	Turning                 // further positions in turn
)

// String returns the stage as a progress line shows it.
func (s Stage) String() string {
	switch s {
	case Reaching:
		return "which wall can be reached"
	case Scattering:
		return "places all over the tank"
	case Refining:
		return "the best places improved"
	case Bending:
		return "bent rods"
	case Dividing:
		return "bare stretches in two"
	case Hardening:
		return "the best places, the hand off"
	case Turning:
		return "positions in turn"
	default:
		return "unknown stage"
	}
}

// Candidate is a layout that was tried.
type Candidate struct {
	Places   []Place        // of each rod; nil for a start that is no straight rod through an opening
	Rods     []geometry.Rod //
	Exposure Exposure       // in a robust search of its worst case
	Verdict  Verdict        // likewise
	Misfit   *Misfit        // why it cannot be used, or nil: starts and the naive rod are judged all the same
}

// Result is what a search found.
type Result struct {
	Best         Candidate
	Alternatives []Candidate // clearly different from the best and from each other, the best first
	Starts       []Candidate // in the order given
	Naive        *Candidate  // nil when there is no such rod
	Patches      station.Patches
	Tally        Tally

	// Stations holds the positions in turn, the best single one first: only that where no
	// further one saves its price or none was asked for. Schedule has their times.
	Stations []Candidate
	Schedule *station.Schedule
}

// Reachable finds the wall that counts: the patches that some single rod which keeps all
// limits gives the aim's least or more at the most current that the supply and its metal
// allow. It depends on the space, the evaluator and the aim, and on no layout to be judged.
func Reachable(ctx context.Context, p *Problem, settings Settings) (station.Patches, error) {
	r, err := newRun(ctx, p, settings)
	if err != nil {
		return station.Patches{}, err
	}
	if err := r.reach(); err != nil {
		return station.Patches{}, err
	}
	return r.patches, nil
}

// Search looks for the best layout. The same problem and settings give the same result on
// any number of cores. It returns *NoWayError when nothing fits and the context's error
// when that ends.
func Search(ctx context.Context, p *Problem, settings Settings) (*Result, error) {
	r, err := newRun(ctx, p, settings)
	if err != nil {
		return nil, err
	}
	return r.search()
}

// search goes through the stages.
func (r *run) search() (*Result, error) {
	for _, stage := range []func() error{r.reach, r.begin, r.scatter, r.refine, r.bend, r.addRods, r.divide, r.harden, r.turns} {
		if err := stage(); err != nil {
			return nil, err
		}
	}
	return r.result()
}

// mostStations is how many positions in turn can be asked for.
const mostStations = 6

func (p *Problem) check() error {
	if p.Evaluator == nil || len(p.Area) == 0 {
		return errors.New("no wall to judge a layout by: the wetted wall has no patches")
	}
	if err := p.Aim.Check(); err != nil {
		return err
	}
	return p.Space.check()
}

func (s *Settings) check() error {
	if s.Count < 1 || s.Count > MostRods {
		return fmt.Errorf("%d rods at once: give 1 to %d", s.Count, MostRods)
	}
	if s.Stations < 1 || s.Stations > mostStations {
		return fmt.Errorf("%d positions in turn: give 1 to %d", s.Stations, mostStations)
	}
	return nil
}
