package plan

import (
	"cmp"
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
