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
		if !r.worth(times) || r.dearer(wider, times) {
			break
		}
		r.chosen, r.schedule = wider, times
	}
	return nil
}

// How often all positions are looked for again when one is added, each with its part of a
// search's layouts: first as though all had the same time, which leads away from one that
// does nearly all and little helpers, then as long as it makes the schedule shorter.
const (
	mostRounds = 3
	turnLooks  = 1 + mostRounds
)

// wider returns the chosen positions with one more, and their times.
func (r *run) wider() ([]*record, *station.Schedule, error) {
	next, err := r.besides(r.chosen, r.schedule.Seconds, r.Refine)
	if err != nil {
		return nil, nil, err
	}
	wide := append(append([]*record(nil), r.chosen...), next)
	times, err := r.timed(wide)
	if err != nil {
		return nil, nil, err
	}
	for round := range mostRounds {
		before := times
		for i := range wide {
			if wide, times, err = r.again(wide, times, i, round == 0); err != nil {
				return nil, nil, err
			}
		}
		if times == before && round > 0 {
			break
		}
	}
	return wide, times, nil
}

// again looks for one of some positions anew, besides the others at their times or at equal
// ones, and returns them with what is the better.
func (r *run) again(all []*record, times *station.Schedule, which int, equal bool) ([]*record, *station.Schedule, error) {
	rest := append(append([]*record(nil), all[:which]...), all[which+1:]...)
	restTimes, err := r.timed(rest)
	if err != nil {
		return nil, nil, err
	}
	seconds := restTimes.Seconds
	if equal {
		seconds = make([]float64, len(rest))
	}
	next, err := r.besides(rest, seconds, r.Refine/len(all))
	if err != nil {
		return nil, nil, err
	}
	other := append([]*record(nil), all...)
	other[which] = next
	otherTimes, err := r.timed(other)
	if err != nil {
		return nil, nil, err
	}
	if r.sooner(otherTimes, times) {
		return other, otherTimes, nil
	}
	return all, times, nil
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
	return Worth(r.Aim, wider, r.schedule, r.Price)
}

// Worth reports whether a schedule of more positions saves so much time, s, over one of fewer:
// within the aim's time or in ten days, where no time can be told, it must add to what is reached.
func Worth(a station.Aim, wider, than *station.Schedule, price float64) bool {
	after := 10 * day
	switch {
	case a.Within > 0:
		after = a.Within
	case than.Finish.Ever:
		return wider.Finish.Ever && wider.Finish.Seconds+price < than.Finish.Seconds
	case wider.Finish.Ever:
		return true
	}
	return wider.ReachedAfter(after)[0] > than.ReachedAfter(after)[0]+leastGain
}

// dearer reports whether wider positions take more charge than the chosen ones where the least is
// wanted and both finish.
func (r *run) dearer(wider []*record, times *station.Schedule) bool {
	return r.Aim.LeastCharge && r.schedule.Finish.Ever && times.Finish.Ever &&
		r.charge(wider, times) > r.charge(r.chosen, r.schedule)
}

// charge returns what flows in the times of positions, A s.
func (r *run) charge(positions []*record, times *station.Schedule) float64 {
	sum := 0.0
	for i, rec := range positions {
		sum += times.Seconds[i] * meanRates{given: rec.exposure.Rate}.current(r.Area)
	}
	return sum
}

// besides looks for the position that helps most besides others: every layout that is
// known is judged anew by the mean of theirs and its own, and the best are improved.
func (r *run) besides(others []*record, seconds []float64, budget int) (*record, error) {
	sub := *r
	sub.known, sub.all = map[key]*record{}, nil
	sub.others = r.mean(others, seconds)
	for _, rec := range r.all {
		if rec.exposure.Rate == nil {
			continue
		}
		again := *rec
		sub.all = append(sub.all, &again)
		if again.places != nil {
			sub.known[keyOf(again.places)] = &again
		}
	}
	sub.weigh(sub.all)
	err := sub.climb(len(others[0].rods), budget)
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

// mean returns what the patches get on the average of positions with times of their own, or
// of equal ones where all are 0.
func (r *run) mean(positions []*record, seconds []float64) *meanRates {
	densities := make([][]float64, len(positions))
	for s, rec := range positions {
		densities[s] = rec.exposure.Rate
	}
	m := meanOf(station.Threshold, r.Aim, densities, seconds)
	return &m
}

// parts is in how many steps the time is split between the others and a further position: a
// power of two.
const parts = 8

// verdictOf judges an exposure, alone or at the best split of time with the others. The best
// is between the neighbours of the best of fewer.
func (r *run) verdictOf(e *Exposure) Verdict {
	if r.others == nil {
		return Judge(r.patches, r.Aim, e)
	}
	own := meanRates{station.Threshold.Rates(r.Aim, e.Rate), e.Rate}
	mixed := meanRates{make([]float64, len(r.Area)), make([]float64, len(r.Area))}
	split := func(n int) Verdict {
		part := float64(n) / parts
		for i := range mixed.given {
			mixed.given[i] = (1-part)*r.others.given[i] + part*own.given[i]
			mixed.working[i] = (1-part)*r.others.working[i] + part*own.working[i]
		}
		return judge(r.patches, r.Aim, mixed)
	}
	at := parts / 2
	best := split(at)
	for step := parts / 4; step > 0; step /= 2 {
		for _, n := range [2]int{at - step, at + step} {
			if v := split(n); v.Better(best) {
				best, at = v, n
				break
			}
		}
	}
	return best
}
