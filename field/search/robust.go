package search

import (
	"evenwall/geometry"
)

// around is in how many directions a rod is shifted and leaned where a search judges the worst
// case: each costs a layout solved.
const around = 4

// harden judges the best layouts by their worst case within the play of the hand and improves
// the best of them by it. Without a robust search it does nothing.
func (r *run) harden() error {
	if !r.Robust || len(r.all) == 0 {
		return nil
	}
	r.enter(Hardening, r.Finalists*r.Count+r.Harden)
	hard, err := r.hardened()
	r.tally, r.told = hard.tally, hard.told
	if err == nil {
		r.hard = hard
	}
	return err
}

// hardened returns a run in which the best layouts of this one, clearly different ones, and the
// starts are judged by their worst case, the best improved, the best first.
func (r *run) hardened() (*run, error) {
	sub := *r
	sub.known, sub.all, sub.atWorst = map[key]*record{}, nil, true
	var finalists []*record
	add := func(rec *record) {
		finalists = append(finalists, &record{wish: rec.wish, places: rec.places, rods: rec.rods, threads: rec.threads})
	}
	for rods := 1; rods <= r.Count; rods++ {
		for _, rec := range r.distinct(r.Finalists, rods) {
			if rec.places != nil {
				add(rec)
			}
		}
	}
	for _, rec := range r.starts {
		if rec.misfit == nil {
			add(rec)
		}
	}
	if len(finalists) == 0 { // nothing that was tried has places: the best as it is
		add(r.all[0])
	}
	if err := sub.evaluate(finalists); err != nil {
		return &sub, err
	}
	sub.judge(finalists)
	sub.sort()
	err := sub.climb(len(sub.all[0].rods), r.Harden)
	sub.sort()
	return &sub, err
}

// best returns the best layout, in a robust search by its worst case.
func (r *run) best() *record {
	if r.hard != nil {
		return r.hard.all[0]
	}
	return r.all[0]
}

// bestOf sorts a run and returns its best, in a robust search that of the layouts hardened.
func (r *run) bestOf() (*record, error) {
	r.sort()
	if !r.Robust {
		return r.all[0], nil
	}
	hard, err := r.hardened()
	r.tally, r.told = hard.tally, hard.told
	if err != nil {
		return nil, err
	}
	return hard.all[0], nil
}

// exposureOf returns what a layout does: as it is meant to hang or, where the worst case
// counts, in the worst of the cases: as meant, each rod off by each tolerance alone at its
// ends, and all rods off by the worst of each at once. The greatest current on its metal is
// that of the layout as meant.
func (r *run) exposureOf(rec *record) (Exposure, error) {
	meant, err := r.Evaluator.Evaluate(r.ctx, rec.rods)
	if err != nil || !r.atWorst || r.space.Off.IsZero() {
		return meant, err
	}
	w := worstCase{run: r, worst: meant, verdict: r.verdictOf(&meant)}
	base, all := w.verdict, append([]geometry.Rod(nil), rec.rods...)
	for i := range rec.rods {
		hold := r.space.Hold(&rec.rods[i])
		slips := Slips(&rec.rods[i], hold, r.space.Off, around)
		verdicts := make([]Verdict, len(slips))
		for k, s := range slips {
			off := append([]geometry.Rod(nil), rec.rods...)
			off[i], _ = r.space.Slip(&rec.rods[i], hold, s)
			if verdicts[k], err = w.look(off); err != nil {
				return Exposure{}, err
			}
		}
		all[i], _ = r.space.Slip(&rec.rods[i], hold, WorstOfEach(slips, verdicts, base)...)
	}
	if _, err := w.look(all); err != nil {
		return Exposure{}, err
	}
	w.worst.AnodeMost = meant.AnodeMost
	return w.worst, nil
}

// worstCase keeps the worst of the cases of one layout.
type worstCase struct {
	*run
	worst   Exposure
	verdict Verdict
}

// look evaluates a case. A rod that has no bare metal left under the liquid does nothing.
func (w *worstCase) look(rods []geometry.Rod) (Verdict, error) {
	e := Exposure{Rate: make([]float64, len(w.Area))}
	var wet []geometry.Rod
	for i := range rods {
		if _, under := w.space.lowestBare(&rods[i]); under {
			wet = append(wet, rods[i])
		}
	}
	if len(wet) > 0 {
		var err error
		if e, err = w.Evaluator.Evaluate(w.ctx, wet); err != nil {
			return Verdict{}, err
		}
	}
	v := w.verdictOf(&e)
	if w.verdict.Better(v) {
		w.worst, w.verdict = e, v
	}
	return v, nil
}
