package station

import (
	"errors"
	"fmt"
)

// Keep is the schedule of stations whose times, s, are given: they are kept in their
// proportion, and Finish says how long that takes in all. Its Bound is 0, as nothing was
// looked for, and Needed holds the patches that have their charge then.
func Keep(p Patches, a Aim, rates [][]float64, seconds []float64) (*Schedule, error) {
	if err := a.Check(); err != nil {
		return nil, err
	}
	if len(rates) == 0 || len(seconds) != len(rates) || !(sum(seconds) > 0) {
		return nil, errors.New("no times to keep to: give one for each station, and one of them above 0")
	}
	total, mean := sum(seconds), make([]float64, len(p.Area))
	for s, r := range rates {
		if len(r) != len(p.Area) {
			return nil, fmt.Errorf("station %d has %d patches, the wall %d: solve all stations on the same patches", s+1, len(r), len(p.Area))
		}
		for i, v := range r {
			mean[i] += seconds[s] / total * v
		}
	}
	k := &Schedule{Seconds: seconds, Finish: p.Finish(a, mean), Needed: make([]bool, len(p.Area)), patches: p, aim: a, rates: rates}
	if k.Finish.Ever {
		k.Seconds = scaled(seconds, k.Finish.Seconds/total)
	}
	k.Charge = chargeAfter(rates, k.Seconds)
	for i, got := range k.Charge {
		k.Needed[i] = k.Finish.Ever && p.counts(i) && got >= a.Charge*(1-rounding)
	}
	return k, nil
}
