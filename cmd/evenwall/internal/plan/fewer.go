package plan

import (
	"fmt"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/search"
)

// fewerWords says why no station has as many rods as may hang at once; nil when one has.
func fewerWords(tally *search.Tally, allowed int, stations []job.Station) []string {
	rods := 0
	for i := range stations {
		rods = max(rods, len(stations[i].Anodes))
	}
	if rods >= allowed {
		return nil
	}
	words := []string{fmt.Sprintf("%d, where search.count allows %d", rods, allowed)}
	for n := rods + 1; n <= allowed; n++ {
		t := &tally.ByRods[n]
		used := t.Used()
		switch {
		case t.Tried == 0:
			words = append(words, fmt.Sprintf("%d: not tried, as no %d can hang", n, n-1))
		case used == 0:
			words = append(words, fmt.Sprintf("%d: none of %d layouts can be used, %s", n, t.Tried, limitWords(t.Why())))
		default:
			words = append(words, fmt.Sprintf("%d: %d of %d layouts can be used, and none of them was found to do better", n, used, t.Tried))
		}
	}
	return words
}

// limitWords says what keeps further rods out and what would help.
func limitWords(why search.Reason) string {
	if why == search.RodsMeet {
		return "as the rods meet; what would help: thinner ones, a wider opening, or a second one"
	}
	return fmt.Sprintf("mostly: %s; what would help: %s", why, why.Help())
}
