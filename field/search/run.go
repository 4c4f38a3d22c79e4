package search

import (
	"context"
	"fmt"
	"math/rand/v2"

	"evenwall/field/station"
	"evenwall/geometry"
)

// MostRods is how many rods at once a search can place.
const MostRods = 3

// layout is one to MostRods places as wished for, before they are cut down to what fits.
type layout []Place

// key tells layouts that fit apart.
type key [MostRods]Place

// record is a layout that was evaluated.
type record struct {
	wish, places layout
	rods         []geometry.Rod
	exposure     Exposure
	verdict      Verdict
	misfit       *Misfit
	threads      bool // a way in was found for its bent rod
}

// run is a search in progress.
type run struct {
	*Problem
	Settings
	ctx      context.Context
	space    Space
	patches  station.Patches
	tally    Tally
	nearest  *Misfit
	nearAt   Place
	excess   Excess // the least, of layouts whose metal carries more than allowed
	known    map[key]*record
	all      []*record // that keep the limits, in the order found
	starts   []*record
	naive    *record
	told     progress
	chance   *rand.Rand
	others   *meanRates // of the positions that a further one is looked for besides; nil: none
	chosen   []*record  // positions in turn
	schedule *station.Schedule
	kept     int           // best records that keep their patches' rates
	atWorst  bool          // every layout is judged by its worst case
	fits     map[Place]fit // bent rods of layouts with several, which come again and again as a further rod is added
	bent     []*record     // bent rods that fit, in the order found, until some of them are improved
	hard     *run          // a robust search: the layouts that were judged by their worst case, or nil
}

// progress is the stage at work and how far it has come.
type progress struct {
	stage       Stage
	step, steps int
}

func newRun(ctx context.Context, p *Problem, settings Settings) (*run, error) {
	r := &run{Problem: p, Settings: settings.withDefaults(), ctx: ctx, known: map[key]*record{}, fits: map[Place]fit{}}
	r.chance = rand.New(rand.NewPCG(settings.Seed, 0))
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := r.Settings.check(); err != nil {
		return nil, err
	}
	r.space = p.Space.withDefaults()
	r.patches.Area, r.patches.Weight = p.Area, p.Weight
	r.kept = max(fullKept, keptEach*r.Keep)
	if r.Stations > 1 {
		r.kept = turnsKept
	}
	return r, nil
}

// enter begins a stage.
func (r *run) enter(stage Stage, steps int) {
	r.told = progress{stage, 0, steps}
	r.tell(0)
}

func (r *run) tell(more int) {
	r.told.step += more
	if r.Progress != nil {
		r.Progress(r.told.stage, min(r.told.step, r.told.steps), r.told.steps)
	}
}

// fit cuts a layout down to what fits. It returns nil and counts why when it does not.
func (r *run) fit(wish layout) *record {
	rec := &record{wish: wish}
	r.tally.count(wish, len(wish), func(c *Count) { c.Tried++ })
	for _, w := range wish {
		place, miss := r.fitOne(w, len(wish))
		if miss != nil {
			r.miss(wish, miss, place)
			return nil
		}
		rec.places = append(rec.places, place)
		rec.rods = append(rec.rods, r.space.Rod(place))
	}
	miss := r.space.apart(rec.rods)
	if miss == nil {
		miss = rec.places.inOrder()
	}
	if miss != nil {
		r.miss(wish, miss, rec.places[0])
		return nil
	}
	name(rec.rods)
	return rec
}

// name numbers the rods of a layout with several.
func name(rods []geometry.Rod) {
	for i := range rods {
		if len(rods) > 1 {
			rods[i].Name = fmt.Sprintf("rod %d", i+1)
		}
	}
}

// miss counts a layout that does not fit.
func (r *run) miss(wish layout, m *Misfit, at Place) {
	r.tally.count(wish, len(wish), func(c *Count) { c.Misfits[m.Reason]++ })
	if nearerMiss(m, r.nearest) {
		r.nearest, r.nearAt = m, at
	}
}

// keyOf returns what the record is known by.
func keyOf(places layout) (k key) {
	copy(k[:], places)
	return k
}

// known returns the record of the same places if they were evaluated before.
func (r *run) knownAs(rec *record) *record { return r.known[keyOf(rec.places)] }

// nearerMiss reports whether m says more of what keeps all rods out than the one kept: a rod
// that hangs and only has no room to be bare is nearer than one that does not pass the
// opening, and of the same kind the one that lacks less.
func nearerMiss(m, kept *Misfit) bool {
	if m.Reason != NothingBare && m.Reason != NotThrough {
		return false
	}
	if kept == nil || m.Reason != kept.Reason {
		return kept == nil || m.Reason == NothingBare
	}
	return m.By < kept.By
}
