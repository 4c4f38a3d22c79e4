package search

import (
	"evenwall/field/station"
)

// turns looks for further positions, each the one that saves the most besides those there
// are, until none saves its price. After each, the earlier ones are looked for again.
func (r *run) turns() error {
	r.sort()
	if len(r.all) == 0 {
		return nil
	}
	r.chosen = []*record{r.best()}
	var err error
	if r.schedule, err = r.timed(r.chosen); err != nil {
		return err
	}
	if r.Stations > 1 {
		r.enter(Turning, turnLooks*(r.Stations-1)*r.Refine)
	}
	for len(r.chosen) < r.Stations {
		wider, times, err := r.wider()
		if err != nil {
			return err
		}
		if !r.worth(times) {
			return nil
		}
		r.chosen, r.schedule = wider, times
	}
	return nil
}

// turnLooks is how often a position is looked for when one is added: the new one, and one
// of the earlier again.
const turnLooks = 2

// wider returns the chosen positions with one more, and their times.
func (r *run) wider() ([]*record, *station.Schedule, error) {
	next, err := r.besides(r.chosen, r.schedule)
	if err != nil {
		return nil, nil, err
	}
	wide := append(append([]*record(nil), r.chosen...), next)
	times, err := r.timed(wide)
	if err != nil {
		return nil, nil, err
	}
	again := len(r.chosen) - 1 // the position found last, the first time the best alone
	rest := append(append([]*record(nil), wide[:again]...), wide[again+1:]...)
	restTimes, err := r.timed(rest)
	if err != nil {
		return nil, nil, err
	}
	next, err = r.besides(rest, restTimes)
	if err != nil {
		return nil, nil, err
	}
	other := append(append([]*record(nil), wide[:again]...), next)
	other = append(other, wide[again+1:]...)
	otherTimes, err := r.timed(other)
	if err != nil {
		return nil, nil, err
	}
	if r.sooner(otherTimes, times) {
		return other, otherTimes, nil
	}
	return wide, times, nil
}

// timed plans the times of positions.
func (r *run) timed(positions []*record) (*station.Schedule, error) {
	rates := make([][]float64, len(positions))
	for i, rec := range positions {
		rates[i] = station.Threshold.Rates(r.Aim, rec.exposure.Rate)
	}
	return station.Plan(r.patches, r.Aim, rates)
}

// sooner reports whether a is the better schedule.
func (r *run) sooner(a, b *station.Schedule) bool {
	switch {
	case r.Aim.Within > 0:
		return a.ReachedAfter(r.Aim.Within)[0] > b.ReachedAfter(r.Aim.Within)[0]
	case a.Finish.Ever || b.Finish.Ever:
		return a.Finish.Before(b.Finish)
	}
	return a.ReachedAfter(10 * day)[0] > b.ReachedAfter(10 * day)[0]
}

// leastGain is the share of the reachable wall that a further position must add where no
// time can be told.
const leastGain = 0.01

// worth reports whether the wider schedule saves the price of a position.
func (r *run) worth(wider *station.Schedule) bool {
	after := 10 * day
	switch {
	case r.Aim.Within > 0:
		after = r.Aim.Within
	case r.schedule.Finish.Ever:
		return wider.Finish.Ever && wider.Finish.Seconds+r.Price < r.schedule.Finish.Seconds
	case wider.Finish.Ever:
		return true
	}
	return wider.ReachedAfter(after)[0] > r.schedule.ReachedAfter(after)[0]+leastGain
}

// besides looks for the position that helps most besides others: every layout that is
// known is judged anew by the mean of theirs and its own, and the best are improved.
func (r *run) besides(others []*record, times *station.Schedule) (*record, error) {
	sub := *r
	sub.known, sub.all = map[key]*record{}, nil
	sub.others = r.mean(others, times)
	for _, rec := range r.all {
		if rec.exposure.Rate == nil {
			continue
		}
		again := *rec
		again.verdict = sub.verdictOf(&again.exposure)
		sub.all = append(sub.all, &again)
		if again.places != nil {
			sub.known[keyOf(again.places)] = &again
		}
	}
	err := sub.climb(len(others[0].rods), r.Refine)
	r.tally, r.told = sub.tally, sub.told
	if err != nil {
		return nil, err
	}
	first, err := sub.bestOf()
	r.tally, r.told = sub.tally, sub.told
	if err != nil {
		return nil, err
	}
	best := *first
	best.verdict = Judge(r.patches, r.Aim, &best.exposure)
	return &best, nil
}

// mean returns what the patches get on the average of a schedule.
func (r *run) mean(positions []*record, times *station.Schedule) *meanRates {
	densities := make([][]float64, len(positions))
	for s, rec := range positions {
		densities[s] = rec.exposure.Rate
	}
	m := meanOf(station.Threshold, r.Aim, densities, times.Seconds)
	return &m
}

// parts is in how many steps the time is split between the others and a further position.
const parts = 10

// verdictOf judges an exposure, alone or at the best split of time with the others.
func (r *run) verdictOf(e *Exposure) Verdict {
	if r.others == nil {
		return Judge(r.patches, r.Aim, e)
	}
	own := meanRates{station.Threshold.Rates(r.Aim, e.Rate), e.Rate}
	mixed := meanRates{make([]float64, len(r.Area)), make([]float64, len(r.Area))}
	var best Verdict
	for n := 1; n < parts; n++ {
		part := float64(n) / parts
		for i := range mixed.given {
			mixed.given[i] = (1-part)*r.others.given[i] + part*own.given[i]
			mixed.working[i] = (1-part)*r.others.working[i] + part*own.working[i]
		}
		if v := judge(r.patches, r.Aim, mixed); n == 1 || v.Better(best) {
			best = v
		}
	}
	return best
}
