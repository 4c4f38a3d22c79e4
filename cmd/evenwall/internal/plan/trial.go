package plan

import (
	"context"
	"fmt"
	"math"
	"slices"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/search"
	"evenwall/field/station"
	"evenwall/geometry"
)

// allRound is in how many directions a rod is shifted and leaned when a layout is tried.
const allRound = 8

// usualHand is taken for the hand's tolerance where a job states none: common practice, no source.
var usualHand = job.Tolerance{Position: 0.005, Tilt: 2 * math.Pi / 180, Depth: 0.005}

// trial is a layout with its times, to be judged when something is other than meant. All is
// solved on the coarse lattice; what changes there is laid on the close solution.
type trial struct {
	*hunt
	stations []job.Station
	patches  station.Patches
	aim      station.Aim // its share what the planned times bring, at most the job's
	seconds  []float64   // planned, of each station
	close    [][]float64 // as meant, solved closely, of each station on the coarse patches, A/m²
	meant    [][]float64 // the same solved on the coarse lattice
	hand     job.Tolerance
	space    *search.Space
}

// matter is what may be other than meant; cases of one matter exclude each other.
type matter int

const (
	ofPlace matter = iota
	ofLean
	ofDepth
	ofLevel
	ofBath
	ofCrust
	ofAll
	ofNothing
)

// odd is a case: something other than meant.
type odd struct {
	matter  matter
	station int // whose rod it is about, -1: all
	rod     int
	slip    search.Slip
	size    float64 // mm or degrees by which it is off; 0: not by such
	words   string
	mean    [][]float64 // of each station on the coarse patches, A/m²
	verdict search.Verdict
	set     setting
}

// setting is what a case is solved with, besides where the rods hang.
type setting struct {
	basin  *Basin
	filled bool      // another level, and so other patches
	crust  []float64 // film on each station's rods, ohm m²
}

// newTrial readies a layout for trial.
func (h *hunt) newTrial(ctx context.Context, patches station.Patches, c *closeUp) (*trial, error) {
	space := h.problem().Space
	t := &trial{hunt: h, stations: c.stations, patches: patches, aim: aimOf(h.Job.Aim), close: c.onto, seconds: c.seconds(),
		hand: h.Job.Search.Tolerance, space: &space}
	if t.hand.IsZero() {
		t.hand = usualHand
	}
	t.aim.Share = math.Min(t.aim.Share, c.schedule.ReachedAfter(c.schedule.Total())[0])
	for i := range t.stations {
		rates, err := t.solved(ctx, setting{basin: h.coarse}, i, t.stations[i].Anodes)
		if err != nil {
			return nil, err
		}
		t.meant = append(t.meant, rates)
	}
	return t, nil
}

// solved returns what the patches get from rods hung at a station, A/m².
func (t *trial) solved(ctx context.Context, set setting, at int, anodes []job.Anode) ([]float64, error) {
	var wet []job.Anode
	for _, a := range anodes {
		if set.basin.bareUnderLiquid(&a) == nil {
			if set.crust != nil {
				a.Law.Film += set.crust[at]
			}
			wet = append(wet, a)
		}
	}
	nothing := make([]float64, len(t.patches.Area))
	if len(wet) == 0 {
		return nothing, nil
	}
	if set.basin == t.coarse && set.crust == nil && !guarded(wet) {
		e, err := t.evaluator().Evaluate(ctx, rodsOf(wet))
		return e.Rate, err
	}
	s, err := set.basin.solve(ctx, wet, forJudging)
	if err != nil {
		return nil, err
	}
	density := slices.Clone(s.Density)
	for i := range density {
		density[i] *= s.Closure
	}
	if !set.filled && t.wall == nil {
		return density, nil
	}
	s.Density = density
	return t.onto(s, nothing), nil
}

// guarded reports whether any rod hangs in a tube.
func guarded(anodes []job.Anode) bool {
	return slices.ContainsFunc(anodes, func(a job.Anode) bool { return a.Guard.Outside > 0 })
}

// laid lays what a case changes on the coarse lattice on the close solution.
func (t *trial) laid(at int, rates []float64) []float64 {
	out := make([]float64, len(rates))
	for i, j := range rates {
		was, is := t.meant[at][i], t.close[at][i]
		if was > 0.1*t.aim.Least {
			out[i] = is * j / was
		} else {
			out[i] = math.Max(0, is+j-was)
		}
	}
	return out
}

// judged is the verdict on all positions in turn.
func (t *trial) judged(rates [][]float64) search.Verdict {
	return search.JudgeTurns(t.patches, t.aim, rates, t.seconds)
}

// try solves a case in which the rods hang as given, station by station; a nil entry hangs as
// meant, and is not solved again when nothing else is different.
func (t *trial) try(ctx context.Context, o *odd, hung [][]job.Anode) error {
	o.mean = make([][]float64, len(t.stations))
	for s := range t.stations {
		anodes := hung[s]
		if anodes == nil {
			if anodes = t.stations[s].Anodes; o.set.basin == t.coarse && o.set.crust == nil {
				o.mean[s] = t.close[s]
				continue
			}
		}
		rates, err := t.solved(ctx, o.set, s, anodes)
		if err != nil {
			return err
		}
		o.mean[s] = t.laid(s, rates)
	}
	o.verdict = t.judged(o.mean)
	return nil
}

// hands returns a case for each tolerance of the hand alone at its end.
func (t *trial) hands() []odd {
	var out []odd
	play := geometry.Play{Position: t.hand.Position, Tilt: t.hand.Tilt, Depth: t.hand.Depth}
	for s := range t.stations {
		for i := range t.stations[s].Anodes {
			a := &t.stations[s].Anodes[i]
			hold := t.holdOf(a)
			for _, slip := range search.Slips(&a.Rod, hold, play, allRound) {
				_, share := t.space.Slip(&a.Rod, hold, slip)
				o := odd{matter: matterOf(slip.Kind), station: s, rod: i, slip: slip, set: setting{basin: t.coarse}}
				o.size, o.words = slipWords(t.sides(), slip, share, hold)
				o.words = t.whose(s, i) + o.words
				out = append(out, o)
			}
		}
	}
	return out
}

// matterOf returns the matter of a slip of the hand: a turn of a bent rod about itself excludes a
// lean, the tolerance is of both.
func matterOf(kind search.SlipKind) matter {
	switch kind {
	case search.Shifted:
		return ofPlace
	case search.Slid:
		return ofDepth
	}
	return ofLean
}

// whose names the station and the rod where there are several, with a colon.
func (t *trial) whose(s, i int) string {
	name := ""
	if len(t.stations) > 1 {
		name = t.stations[s].Name
	}
	if a := t.stations[s].Anodes; len(a) > 1 {
		if name != "" {
			name += ", "
		}
		name += a[i].Name
	}
	if name != "" {
		name += ": "
	}
	return name
}

// slipWords says how a rod is off, with its size in mm or degrees.
func slipWords(sides geometry.Sides, s search.Slip, share float64, hold geometry.Hold) (size float64, words string) {
	switch s.Kind {
	case search.Shifted:
		size = 1000 * share * s.Size
		return size, fmt.Sprintf("%.3g mm toward the %s at the rim", size, sides.Name(s.Toward))
	case search.Leaned:
		size = degrees(share * s.Size)
		return size, fmt.Sprintf("%.3g degrees, the tip toward the %s", size, sides.Name(s.Toward))
	case search.Spun:
		size = degrees(share * s.Size)
		if s.Toward.Dot(hold.Along) > 0 {
			return size, fmt.Sprintf("%.3g degrees anticlockwise about itself, seen from outside", size)
		}
		return size, fmt.Sprintf("%.3g degrees clockwise about itself, seen from outside", size)
	}
	size = 1000 * share * s.Size
	if s.Toward.Dot(hold.Along) > 0 {
		return size, fmt.Sprintf("%.3g mm pulled up", size)
	}
	return size, fmt.Sprintf("%.3g mm let down", size)
}

// hung returns the anodes of a station with one of them off by slips.
func (t *trial) hung(s int, off map[int][]search.Slip) []job.Anode {
	out := slices.Clone(t.stations[s].Anodes)
	for i, slips := range off {
		out[i].Rod, _ = t.space.Slip(&out[i].Rod, t.holdOf(&out[i]), slips...)
	}
	return out
}

// all tries cases side by side on all cores.
func (t *trial) all(ctx context.Context, cases []odd, hung func(o *odd) [][]job.Anode) error {
	return sideBySide(ctx, len(cases), func(i int) error { return t.try(ctx, &cases[i], hung(&cases[i])) })
}
