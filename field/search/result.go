package search

import (
	"cmp"
	"math"
	"slices"
)

// Two rods closer than this, tip to tip and in their bare stretch, are the same for a
// person, m.
const sameWithin = 0.020

// alike reports whether two layouts are much the same.
func alike(a, b *record) bool {
	if len(a.rods) != len(b.rods) {
		return false
	}
	for i := range a.rods {
		p, q := &a.rods[i], &b.rods[i]
		last := p.Path[len(p.Path)-1].Dist(q.Path[len(q.Path)-1])
		if p.Path[0].Dist(q.Path[0]) > sameWithin || last > sameWithin || len(p.Bare) != len(q.Bare) {
			return false
		}
		if bends := len(p.Path) > 2; bends != (len(q.Path) > 2) || bends && p.Path[len(p.Path)/2].Dist(q.Path[len(q.Path)/2]) > sameWithin {
			return false
		}
		for k := range p.Bare {
			if math.Abs(p.Bare[k].From-q.Bare[k].From) > sameWithin || math.Abs(p.Bare[k].To-q.Bare[k].To) > sameWithin {
				return false
			}
		}
	}
	return true
}

// distinct returns up to n of the best records that can be improved and are not alike, of a
// number of rods.
func (r *run) distinct(n, rods int) []*record {
	r.sort()
	var out []*record
	for _, rec := range r.all {
		if len(rec.rods) != rods || rec.wish == nil {
			continue
		}
		fresh := true
		for _, o := range out {
			fresh = fresh && !alike(rec, o)
		}
		if fresh {
			out = append(out, rec)
		}
		if len(out) == n {
			break
		}
	}
	return out
}

// result collects what was found.
func (r *run) result() (*Result, error) {
	r.sort()
	if len(r.all) == 0 {
		return nil, r.noWay()
	}
	all := r.all
	if r.hard != nil {
		all = r.hard.all
	}
	out := &Result{Best: all[0].candidate(), Patches: r.patches, Tally: r.tally}
	kept := r.apartOf(all[:min(r.kept, len(all))])
	for _, rec := range kept[1:] {
		out.Alternatives = append(out.Alternatives, rec.candidate())
	}
	for _, rec := range r.starts {
		out.Starts = append(out.Starts, rec.candidate())
	}
	for _, rec := range r.chosen {
		out.Stations = append(out.Stations, rec.candidate())
	}
	out.Schedule = r.schedule
	if r.naive != nil {
		c := r.naive.candidate()
		out.Naive = &c
	}
	return out, nil
}

// apartOf returns the best of sorted records that are clearly different, one more than alternatives
// are kept; where there may be bent ones at least half are straight as long as there are so many.
func (r *run) apartOf(sorted []*record) []*record {
	var kept []*record
	take := func(n int, of func(*record) bool) {
		for _, rec := range sorted {
			fresh := len(kept) < n && of(rec)
			for _, o := range kept {
				fresh = fresh && !alike(rec, o)
			}
			if fresh {
				kept = append(kept, rec)
			}
		}
	}
	if r.space.Bent || r.space.Flexible {
		take((r.Keep+1)/2, func(rec *record) bool { return !rec.places.bent() })
	}
	take(r.Keep+1, func(*record) bool { return true })
	slices.SortStableFunc(kept, func(a, b *record) int {
		return cmp.Compare(slices.Index(sorted, a), slices.Index(sorted, b))
	})
	return kept
}

func (rec *record) candidate() Candidate {
	return Candidate{rec.places, rec.rods, rec.exposure, rec.verdict, rec.misfit}
}
