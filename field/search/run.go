package search

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"sort"
	"sync"
	"sync/atomic"

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
	known    map[key]*record
	all      []*record // that keep the limits, in the order found
	starts   []*record
	naive    *record
	told     progress
	chance   *rand.Rand
	others   *meanRates // of the positions that a further one is looked for besides; nil: none
	chosen   []*record  // positions in turn
	schedule *station.Schedule
	kept     int // best records that keep their patches' rates
}

// progress is the stage at work and how far it has come.
type progress struct {
	stage       Stage
	step, steps int
}

func newRun(ctx context.Context, p *Problem, settings Settings) (*run, error) {
	r := &run{Problem: p, Settings: settings.withDefaults(), ctx: ctx, known: map[key]*record{}}
	r.chance = rand.New(rand.NewPCG(settings.Seed, 0))
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := r.Settings.check(); err != nil {
		return nil, err
	}
	r.space = p.Space.withDefaults()
	r.patches.Area = p.Area
	r.kept = fullKept
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
	r.tally.Tried++
	rec := &record{wish: wish}
	for _, w := range wish {
		place, miss := r.space.Fit(w)
		if miss != nil {
			r.miss(miss, place)
			return nil
		}
		rec.places = append(rec.places, place)
		rec.rods = append(rec.rods, r.space.Rod(place))
	}
	if miss := r.space.apart(rec.rods); miss != nil {
		r.miss(miss, rec.places[0])
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

func (r *run) miss(m *Misfit, at Place) {
	r.tally.Misfits[m.Reason]++
	if (m.Reason == NothingBare || m.Reason == NotThrough) && (r.nearest == nil || m.By < r.nearest.By) {
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

// chunk is how many layouts are evaluated between two words of progress.
const chunk = 16

// evaluate finds the exposure of each record and, once the reachable wall is known, its
// verdict.
func (r *run) evaluate(records []*record) error {
	for len(records) > 0 {
		n := min(chunk, len(records))
		if err := r.side(records[:n]); err != nil {
			return err
		}
		r.tally.Evaluated += n
		r.tell(n)
		records = records[n:]
	}
	return nil
}

// side evaluates records side by side on all cores.
func (r *run) side(records []*record) error {
	errs := make([]error, len(records))
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(records)) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(records); i = int(next.Add(1)) - 1 {
				if errs[i] = r.ctx.Err(); errs[i] == nil {
					records[i].exposure, errs[i] = r.Evaluator.Evaluate(r.ctx, records[i].rods)
				}
			}
		})
	}
	group.Wait()
	if err := r.ctx.Err(); err != nil {
		return err
	}
	for i, err := range errs {
		if err == nil && len(records[i].exposure.Rate) != len(r.Area) {
			err = fmt.Errorf("%d patches instead of %d", len(records[i].exposure.Rate), len(r.Area))
		}
		if err != nil {
			return fmt.Errorf("a rod from %v to %v: %w", records[i].rods[0].Path[0], records[i].rods[0].Path[1], err)
		}
	}
	return nil
}

// judge gives evaluated records their verdicts and keeps those within the limits.
func (r *run) judge(records []*record) {
	for _, rec := range records {
		rec.verdict = r.verdictOf(&rec.exposure)
		if over := rec.exposure.AnodeMost - r.AnodeLimit; over > 0 && rec.misfit == nil {
			rec.misfit = &Misfit{OverLimit, over}
			r.tally.Misfits[OverLimit]++
		}
		if rec.misfit == nil {
			r.all = append(r.all, rec)
		}
		if rec.places != nil {
			r.known[keyOf(rec.places)] = rec
		}
	}
}

// try evaluates and judges the records that are not known yet, at most budget of them,
// and returns for each its record, nil past the budget, and how many were evaluated.
func (r *run) try(records []*record, budget int) ([]*record, int, error) {
	var fresh []*record
	for i, rec := range records {
		if old := r.knownAs(rec); old != nil {
			records[i] = old
			continue
		}
		if len(fresh) == budget {
			records[i] = nil
			continue
		}
		r.known[keyOf(rec.places)] = rec
		fresh = append(fresh, rec)
	}
	if err := r.evaluate(fresh); err != nil {
		return nil, 0, err
	}
	r.judge(fresh)
	r.thin()
	return records, len(fresh), nil
}

// How many of the best records keep their patches' rates: for alternatives, and for
// positions in turn, where a poor one may be the best besides another.
const (
	fullKept  = 64
	turnsKept = 600
)

// thin drops the rates of all but the best records.
func (r *run) thin() {
	r.sort()
	for _, rec := range r.all[min(r.kept, len(r.all)):] {
		if rec.places != nil { // starts are kept whole
			rec.exposure.Rate = nil
		}
	}
}

// sort puts the best first; of equals the one found first.
func (r *run) sort() {
	sort.SliceStable(r.all, func(i, k int) bool { return r.all[i].verdict.Better(r.all[k].verdict) })
}
