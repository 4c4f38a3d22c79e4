package plan

import (
	"cmp"
	"fmt"
	"slices"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/search"
)

// triedAs says how rods of a kind, bent ones or flexible ones, fared in a search; nil where none were to
// be tried.
func triedAs(wanted bool, c *search.Count) *report.BentTried {
	if !wanted {
		return nil
	}
	out := &report.BentTried{Tried: c.Tried, LookedUp: c.Evaluated, WaySought: c.Threaded, Fitted: c.Fit()}
	for _, why := range c.Reasons() {
		out.TurnedDown = append(out.TurnedDown, report.TurnedDown{Why: why.String(), Count: c.Misfits[why]})
	}
	slices.SortStableFunc(out.TurnedDown, func(a, b report.TurnedDown) int { return cmp.Compare(b.Count, a.Count) })
	return out
}

// noneLies says why no flexible anode fits, and what the least spacers are beside the widest opening; ""
// where one does, or none were to be tried.
func (h *hunt) noneLies(tally *search.Tally) string {
	c := &tally.Lying
	if !h.Job.Search.Flexible || c.Fit() > 0 {
		return ""
	}
	space := h.problem().Space
	spacers, widest := space.SpacerDiameter(slices.Min(space.Radii)), 0.0
	for _, i := range space.Ways() {
		widest = max(widest, h.Openings[i].Diameter)
	}
	why := "nothing fits"
	if reasons := c.Reasons(); len(reasons) > 0 {
		why = "mostly: " + reasons[0].String()
	}
	return fmt.Sprintf("no flexible anode fits (search.flexible), %s: a clearance of %.1f mm takes spacers of %.1f mm at least, the widest opening is %.1f mm: lower search.clearance, or give a thinner anode or a smaller search.least_bend",
		why, 1000*space.Clearance, 1000*spacers, 1000*widest)
}
