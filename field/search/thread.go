package search

import "slices"

// bent reports whether a layout has a bent rod, or a flexible one, whose course is bent.
func (l layout) bent() bool {
	return slices.ContainsFunc(l, func(p Place) bool { return p.Bend > 0 })
}

// flexible reports whether a layout has a flexible one.
func (l layout) flexible() bool {
	return slices.ContainsFunc(l, func(p Place) bool { return p.Flexible })
}

// inOrder returns why rods cannot be brought in one after the other: no way is looked for past
// rods that hang already, so that a bent one comes first, and there is only one.
func (l layout) inOrder() *Misfit {
	for i, p := range l {
		if i > 0 && p.Bend > 0 {
			return &Misfit{NotThreaded, p.Tip.Dist(p.Corner)}
		}
	}
	return nil
}

// fit is what Space.Fit returns.
type fit struct {
	place Place
	miss  *Misfit
}

// fitOne fits one of so many places. A bent one among several is looked at once.
func (r *run) fitOne(wish Place, of int) (Place, *Misfit) {
	if of == 1 || wish.Bend == 0 {
		return r.space.Fit(wish)
	}
	f, ok := r.fits[wish]
	if !ok {
		f.place, f.miss = r.space.Fit(wish)
		r.fits[wish] = f
	}
	return f.place, f.miss
}

// open reports whether it is not known yet if a record's bent rod can be brought in. A start is
// taken as it is.
func (rec *record) open() bool { return rec.places.bent() && !rec.threads }

// seekWay finds out for open records, side by side, whether they can be brought in.
func (r *run) seekWay(open []*record) {
	misses := make([]*Misfit, len(open))
	each(len(open), func(i int) {
		if r.ctx.Err() == nil {
			misses[i] = r.space.ThreadsIn(open[i].places[0])
		}
	})
	for i, rec := range open {
		rec.threads = true
		r.tally.count(rec.places, len(rec.rods), func(c *Count) { c.Threaded++ })
		if misses[i] != nil {
			r.turnDown(rec, misses[i])
		}
	}
}

// settle finds out for open records whether they can be brought in and keeps those that can.
func (r *run) settle(open []*record) error {
	r.seekWay(open)
	kept := slices.DeleteFunc(open, func(rec *record) bool { return rec.misfit != nil })
	if err := r.side(kept); err != nil {
		return err
	}
	r.all = append(r.all, kept...)
	return nil
}

// waysSought is how many bent rods that cannot be brought in are looked at before a climber
// stays where it is.
const waysSought = 2

// bestOfEach returns for each climber the best of where it is and of what it has seen, open
// records settled first.
func (r *run) bestOfEach(climbers []*climber, seen [][]*record) ([]*record, error) {
	best, failed := make([]*record, len(climbers)), make([]int, len(climbers))
	for {
		var open []*record
		for i, c := range climbers {
			best[i] = c.at
			for _, rec := range seen[i] {
				if rec != nil && (!rec.open() || failed[i] < waysSought) {
					best[i] = better(best[i], rec)
				}
			}
			if best[i].open() && best[i] != c.at {
				failed[i]++
				if !slices.Contains(open, best[i]) {
					open = append(open, best[i])
				}
			}
		}
		if len(open) == 0 {
			return best, nil
		}
		if err := r.settle(open); err != nil {
			return nil, err
		}
	}
}

// bestApart returns the n best of records that keep the limits and are clearly different, open
// ones settled first.
func (r *run) bestApart(records []*record, n int) ([]*record, error) {
	var out []*record
	for failed := 0; len(out) < n && failed < waysSought*n; {
		var best *record
		for _, rec := range records {
			taken := rec == nil || rec.misfit != nil
			for _, o := range out {
				taken = taken || alike(o, rec)
			}
			if !taken && (best == nil || rec.verdict.Better(best.verdict)) {
				best = rec
			}
		}
		if best == nil {
			break
		}
		if best.open() {
			if err := r.settle([]*record{best}); err != nil {
				return nil, err
			}
		}
		if best.misfit != nil {
			failed++
			continue
		}
		out = append(out, best)
	}
	return out, nil
}
