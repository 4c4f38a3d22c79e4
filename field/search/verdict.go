package search

import (
	"evenwall/field/station"
)

const day = 24 * 3600.0 // s

// Verdict is how a layout does against the aim.
type Verdict struct {
	Finish station.Finish // when the share of the reachable wall has its charge
	After  [3]float64     // share of it that has its charge after 1, 3 and 10 days
	// InTime is the share that has its charge within the aim's time; 0 where it has none.
	InTime float64
	// Charge is what flows until Finish, A s; 0 where time counts and not charge.
	Charge float64
	// Nearly is the mean over the reachable area of what patches get, counted up to the
	// aim's least and over it: 1 when all are worked. It tells two layouts apart that
	// reach the same.
	Nearly float64
}

// Better reports whether v is the better: where a time is to be kept within, one that has
// reached more in it; then one that finishes, then that of less charge or the sooner; where
// neither does, the one that has reached more after ten days, then the one that nearly
// reaches more.
func (v Verdict) Better(w Verdict) bool {
	switch {
	case v.InTime != w.InTime:
		return v.InTime > w.InTime
	case v.Finish.Ever || w.Finish.Ever:
		if v.Finish.Ever && w.Finish.Ever && v.Charge != w.Charge {
			return v.Charge < w.Charge
		}
		if v.Finish != w.Finish {
			return v.Finish.Before(w.Finish)
		}
		return v.Nearly > w.Nearly
	case v.After[2] != w.After[2]:
		return v.After[2] > w.After[2]
	default:
		return v.Nearly > w.Nearly
	}
}

// Judge holds an exposure against the aim on a fixed set of patches.
func Judge(p station.Patches, a station.Aim, e *Exposure) Verdict {
	return judge(p, a, meanRates{station.Threshold.Rates(a, e.Rate), e.Rate})
}

// JudgeTurns holds positions in turn, by the current density that each gives every patch, A/m²,
// against the aim by the law that layouts are ranked by: times in the given proportion, or alike
// where all are 0.
func JudgeTurns(p station.Patches, a station.Aim, densities [][]float64, seconds []float64) Verdict {
	return JudgeBy(station.Threshold, p, a, densities, seconds)
}

// JudgeBy is JudgeTurns by any law of how the wall changes.
func JudgeBy(law station.Law, p station.Patches, a station.Aim, densities [][]float64, seconds []float64) Verdict {
	return judge(p, a, meanOf(law, a, densities, seconds))
}

// meanRates is what patches get from one position, or on the average of several in turn.
type meanRates struct {
	working []float64 // A/m²
	given   []float64 // before threshold and ceiling, A/m²
}

// meanOf returns what the patches get on the average of positions in turn.
func meanOf(law station.Law, a station.Aim, densities [][]float64, seconds []float64) meanRates {
	n, total := len(densities[0]), 0.0
	for _, t := range seconds {
		total += t
	}
	m := meanRates{make([]float64, n), make([]float64, n)}
	for s, rates := range densities {
		part := 1 / float64(len(densities))
		if total > 0 {
			part = seconds[s] / total
		}
		for i, j := range rates {
			m.given[i] += part * j
			m.working[i] += part * law.Rate(a, j)
		}
	}
	return m
}

func judge(p station.Patches, a station.Aim, m meanRates) Verdict {
	v := Verdict{Finish: p.Finish(a, m.working)}
	for i, days := range [3]float64{1, 3, 10} {
		v.After[i] = p.Reached(a, m.working, days*day)
	}
	if a.Within > 0 {
		v.InTime = p.Reached(a, m.working, a.Within)
	}
	if a.LeastCharge && v.Finish.Ever {
		v.Charge = m.current(p.Area) * v.Finish.Seconds
	}
	v.Nearly = p.ShareOf(func(i int) float64 { return min(max(m.given[i], 0), a.Least) / a.Least })
	return v
}

// current returns what flows into all the wall, A.
func (m meanRates) current(area []float64) float64 {
	sum := 0.0
	for i, j := range m.given {
		sum += j * area[i]
	}
	return sum
}
