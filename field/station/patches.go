package station

import "math"

// Patches is the wall that is judged: one fixed set for every layout compared.
type Patches struct {
	Area      []float64 // m²
	Reachable []bool    // which patches count; nil: all
	Weight    []float64 // by which the area of each counts in every share, such as by where the rust sits; nil: 1
}

// Finish is when the aimed-at share of the reachable area has its charge. The zero value
// says never.
type Finish struct {
	Ever    bool
	Seconds float64 // 0 when never
}

// Hours returns the time in hours and whether there is one.
func (f Finish) Hours() (hours float64, ever bool) { return f.Seconds / 3600, f.Ever }

// Before reports whether f comes earlier than g; never is after everything.
func (f Finish) Before(g Finish) bool {
	if f.Ever != g.Ever {
		return f.Ever
	}
	return f.Ever && f.Seconds < g.Seconds
}

// counts reports whether patch i is in the set.
func (p Patches) counts(i int) bool { return p.Reachable == nil || p.Reachable[i] }

// worth returns the area of patch i as it counts, m².
func (p Patches) worth(i int) float64 {
	if p.Weight == nil {
		return p.Area[i]
	}
	return p.Area[i] * p.Weight[i]
}

// ReachableArea returns the area of the patches that count, without their weights, m².
func (p Patches) ReachableArea() float64 {
	p.Weight = nil
	return p.reachable()
}

// reachable returns the area of the patches that count with their weights, m².
func (p Patches) reachable() float64 {
	sum := 0.0
	for i := range p.Area {
		if p.counts(i) {
			sum += p.worth(i)
		}
	}
	return sum
}

// ShareOf returns the mean of a value from 0 to 1 over the patches that count, by weighted area.
func (p Patches) ShareOf(value func(i int) float64) float64 {
	sum := 0.0
	for i := range p.Area {
		if p.counts(i) {
			sum += p.worth(i) * value(i)
		}
	}
	if all := p.reachable(); all > 0 {
		return sum / all
	}
	return 0
}

// Finish returns when the share has its charge at one station with the given working
// rates, A/m²: the charge over the area-weighted quantile of the rates.
func (p Patches) Finish(a Aim, rate []float64) Finish {
	slowest, ok := p.quantile(rate, a.Share*p.reachable())
	if !ok {
		return Finish{}
	}
	return Finish{true, a.Charge / slowest}
}

// Reached returns the share of the reachable area that has its charge after a time at one
// station; 0 when nothing is reachable.
func (p Patches) Reached(a Aim, rate []float64, seconds float64) float64 {
	return p.shareAbove(rate, a.Charge/seconds)
}

// rounding is the share of a figure that sums over patches may be off by.
const rounding = 1e-12

// shareAbove returns the share of the reachable area whose value is at least bar.
func (p Patches) shareAbove(value []float64, bar float64) float64 {
	bar -= rounding * math.Abs(bar)
	above, all := 0.0, 0.0
	for i := range p.Area {
		if !p.counts(i) {
			continue
		}
		area := p.worth(i)
		all += area
		if value[i] >= bar {
			above += area
		}
	}
	if all == 0 {
		return 0
	}
	return above / all
}

// weighted is the value of a patch and its area.
type weighted struct{ value, area float64 }

// quantile returns the greatest value v such that patches at v or more hold the area
// need, m²; false when even those above zero do not, or nothing is needed.
func (p Patches) quantile(value []float64, need float64) (float64, bool) {
	items := make([]weighted, 0, len(p.Area))
	for i := range p.Area {
		if area := p.worth(i); p.counts(i) && value[i] > 0 && area > 0 {
			items = append(items, weighted{value[i], area})
		}
	}
	if !(need > 0) {
		return 0, false
	}
	return topQuantile(items, need*(1-rounding))
}

// topQuantile takes items from the greatest value down until their area reaches need and
// returns the value of the last. Quickselect (Hoare 1961) with weights; it changes the
// order of items.
func topQuantile(items []weighted, need float64) (float64, bool) {
	for len(items) > 0 {
		pivot := middleOf(items[0].value, items[len(items)/2].value, items[len(items)-1].value)
		above, equal := partition(items, pivot)
		areaAbove := areaOf(items[:above])
		if areaAbove >= need {
			items = items[:above]
			continue
		}
		if areaAbove+areaOf(items[above:equal]) >= need {
			return pivot, true
		}
		need -= areaAbove + areaOf(items[above:equal])
		items = items[equal:]
	}
	return 0, false
}

func middleOf(a, b, c float64) float64 { return math.Max(math.Min(a, b), math.Min(math.Max(a, b), c)) }

func areaOf(items []weighted) float64 {
	sum := 0.0
	for _, it := range items {
		sum += it.area
	}
	return sum
}

// partition orders items into those above the pivot, those equal to it and those below,
// and returns where the second and third group begin.
func partition(items []weighted, pivot float64) (above, equal int) {
	below := len(items)
	for equal < below {
		switch v := items[equal].value; {
		case v > pivot:
			items[above], items[equal] = items[equal], items[above]
			above++
			equal++
		case v < pivot:
			below--
			items[below], items[equal] = items[equal], items[below]
		default:
			equal++
		}
	}
	return above, equal
}
