package plan

import (
	"fmt"
	"slices"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/search"
	"evenwall/field/station"
)

// shownOthers is how many alternatives are shown.
const shownOthers = 3

// shownLayout is a layout that is shown, by what the coarse patches get at each of its positions.
type shownLayout struct {
	name      string
	densities [][]float64 // A/m²
	seconds   []float64   // nil for a single position
}

// alternatives adds the layouts that come behind the best, solved as closely, to the search's
// report.
func (h *hunt) alternatives(found *search.Result, to *report.Search) []shownLayout {
	var out []shownLayout
	for i := range found.Alternatives {
		c := &found.Alternatives[i]
		anodes := h.anodes(c)
		other := report.Other{Judged: *h.judgedAs(c.Verdict, anodes)}
		other.ReachFraction = h.reachOf(c.Exposure.Rate)
		for k := range anodes {
			other.Rods = append(other.Rods, report.RodWords(&anodes[k]))
		}
		to.Others = append(to.Others, other)
		out = append(out, shownLayout{name: fmt.Sprintf("alternative %d", i+1), densities: [][]float64{c.Exposure.Rate}})
	}
	return out
}

// reachOf returns the share of the wetted wall that gets the aim's least or more.
func (h *hunt) reachOf(rates []float64) float64 {
	reached, all := 0.0, 0.0
	for i, area := range h.areas() {
		all += area
		if rates[i] >= h.Job.Aim.Least {
			reached += area
		}
	}
	return reached / all
}

// byLaws judges layouts by each law and compares their order.
func (h *hunt) byLaws(patches station.Patches, shown []shownLayout) *report.Laws {
	out := &report.Laws{Kept: true}
	for _, c := range shown {
		out.Layouts = append(out.Layouts, report.ByLaws{Name: c.name})
	}
	var first []int
	for _, law := range station.Laws() {
		verdicts := make([]search.Verdict, len(shown))
		order := make([]int, len(shown))
		for i, c := range shown {
			verdicts[i], order[i] = search.JudgeBy(law, patches, aimOf(h.Job.Aim), c.densities, c.seconds), i
			l := &out.Layouts[i]
			l.TenDays = append(l.TenDays, verdicts[i].After[2])
			l.Hours = append(l.Hours, nil)
			if hours, ever := verdicts[i].Finish.Hours(); ever {
				l.Hours[len(l.Hours)-1] = &hours
			}
		}
		slices.SortStableFunc(order, func(a, b int) int { return compare(verdicts[a], verdicts[b]) })
		out.Names, out.First = append(out.Names, law.String()), append(out.First, shown[order[0]].name)
		if first == nil {
			first = order
		}
		out.Kept = out.Kept && slices.Equal(first, order)
	}
	return out
}

// compare puts the better verdict first.
func compare(a, b search.Verdict) int {
	switch {
	case a.Better(b):
		return -1
	case b.Better(a):
		return 1
	}
	return 0
}
