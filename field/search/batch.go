package search

import (
	"fmt"
	"runtime"
	"sort"
	"sync"
	"sync/atomic"
)

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
		for _, rec := range records[:n] {
			r.tally.count(rec.places, len(rec.rods), func(c *Count) { c.Evaluated++ })
		}
		r.tell(n)
		records = records[n:]
	}
	return nil
}

// side evaluates records side by side on all cores.
func (r *run) side(records []*record) error {
	errs := make([]error, len(records))
	each(len(records), func(i int) {
		if errs[i] = r.ctx.Err(); errs[i] == nil {
			records[i].exposure, errs[i] = r.exposureOf(records[i])
		}
	})
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

// each calls work(0) … work(n-1) over the cores.
func each(n int, work func(int)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	group.Wait()
}

// weigh gives evaluated records their verdicts.
func (r *run) weigh(records []*record) {
	each(len(records), func(i int) { records[i].verdict = r.verdictOf(&records[i].exposure) })
}

// judge gives evaluated records their verdicts and keeps those within the limits.
func (r *run) judge(records []*record) {
	r.weigh(records)
	for _, rec := range records {
		if over := rec.exposure.AnodeMost - r.AnodeLimit; over > 0 && rec.misfit == nil {
			r.turnDown(rec, &Misfit{OverLimit, over})
			if e := (Excess{rec.exposure.Current, rec.exposure.AnodeMost, r.AnodeLimit}); r.excess.Most == 0 || e.Most < r.excess.Most {
				r.excess = e
			}
		}
		if miss := r.notSpared(rec); miss != nil && rec.misfit == nil {
			r.turnDown(rec, miss)
		}
		switch {
		case rec.misfit != nil:
		case rec.open():
			rec.exposure.Rate = nil // looked up again when it is known to go in
			r.bent = append(r.bent, rec)
		default:
			r.all = append(r.all, rec)
		}
		if rec.places != nil {
			r.known[keyOf(rec.places)] = rec
		}
	}
}

// turnDown marks an evaluated record as one that breaks a limit.
func (r *run) turnDown(rec *record, miss *Misfit) {
	rec.misfit = miss
	r.tally.count(rec.places, len(rec.rods), func(c *Count) { c.Misfits[miss.Reason]++ })
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
	keptEach  = 30 // for each alternative: most of the best are alike
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
