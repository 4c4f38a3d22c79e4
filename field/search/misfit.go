package search

import (
	"fmt"
	"math"
)

// Reason is why a rod does not fit.
type Reason int

const (
	NotThrough   Reason = iota // it does not pass its opening
	NotIn                      // its tip is not inside, below its opening
	HitsSteel                  // rod or sleeve meets steel, hanging or on the way in
	LeavesTank                 // it goes out through another opening
	NothingBare                // no bare metal under the liquid keeps the clearance
	Dry                        // no bare metal is under the liquid
	TooNear                    // bare metal of a rod taken as it is comes nearer to steel than the clearance
	RodsMeet                   // two rods are too near each other
	OverLimit                  // its metal carries more current than allowed, found by solving
	NotSpared                  // wall that is to be spared gets too much, found by solving
	NotBent                    // its legs are too short for the bend, or it turns too little or too far
	NotThreaded                // bent, and no way in was found
	Slides                     // flexible, and its leg would lie too steep to stay
	reasonsCount = iota
)

// String returns the reason in words.
func (r Reason) String() string {
	switch r {
	case NotThrough:
		return "does not pass the opening"
	case NotIn:
		return "does not hang inside the tank"
	case HitsSteel:
		return "rod or sleeve meets steel"
	case LeavesTank:
		return "goes out through another opening"
	case NothingBare:
		return "too near steel to be bare anywhere under the liquid"
	case Dry:
		return "no bare metal under the liquid"
	case TooNear:
		return "bare metal nearer to steel than the clearance"
	case RodsMeet:
		return "two rods meet"
	case OverLimit:
		return "more current on the rod's metal than allowed"
	case NotBent:
		return "no room for the bend"
	case NotThreaded:
		return "no way in was found for a bent rod"
	case Slides:
		return "too steep for a flexible anode to lie"
	case NotSpared:
		return "more to wall that is to be spared than allowed"
	default:
		return "unknown reason"
	}
}

// Misfit is a place that cannot be used. By is how much is missing: metres, A/m² for
// OverLimit, a share of what is allowed for NotSpared.
type Misfit struct {
	Reason Reason
	By     float64
}

// Error implements error.
func (m *Misfit) Error() string {
	if m.Reason == OverLimit {
		return fmt.Sprintf("%s, by %.3g A/m²", m.Reason, m.By)
	}
	if m.Reason == NotSpared {
		return fmt.Sprintf("%s, by %.0f %%", m.Reason, 100*m.By)
	}
	return fmt.Sprintf("%s, by %.1f mm", m.Reason, 1000*m.By)
}

// Tally counts what was tried.
type Tally struct {
	Count
	ByRods [MostRods + 1]Count // by how many rods a layout has
	Bent   Count               // those with a bent rod
	Lying  Count               // those with a flexible one
}

// Count is one count of a tally.
type Count struct {
	Tried     int // places and layouts looked at
	Evaluated int // layouts whose wall current was computed
	Threaded  int // bent rods for which a way in was looked for: only those that do well
	Misfits   [reasonsCount]int
}

// count counts a layout, in each count that it belongs to.
func (t *Tally) count(of layout, rods int, one func(*Count)) {
	one(&t.Count)
	if rods <= MostRods { // a start may have more
		one(&t.ByRods[rods])
	}
	switch {
	case of.flexible():
		one(&t.Lying)
	case of.bent():
		one(&t.Bent)
	}
}

// Used returns how many can be used.
func (t *Count) Used() int {
	n := t.Tried
	for _, k := range t.Misfits {
		n -= k
	}
	return max(0, n) // starts are not tried
}

// Why returns what keeps the most of them out; where that is each other in any, it is that: rods
// alone fit.
func (t *Count) Why() Reason {
	if t.Misfits[RodsMeet] > 0 {
		return RodsMeet
	}
	most := Reason(0)
	for r, k := range t.Misfits {
		if k > t.Misfits[most] {
			most = Reason(r)
		}
	}
	return most
}

// Fit returns how many fitted.
func (t *Count) Fit() int {
	n := t.Tried
	for r, k := range t.Misfits {
		if Reason(r) != OverLimit && Reason(r) != NotSpared {
			n -= k
		}
	}
	return n
}

// Reasons returns the reasons that came up, the most frequent first.
func (t *Count) Reasons() []Reason {
	var all []Reason
	for r := range Reason(reasonsCount) {
		if t.Misfits[r] == 0 {
			continue
		}
		k := len(all)
		all = append(all, r)
		for ; k > 0 && t.Misfits[all[k-1]] < t.Misfits[r]; k-- {
			all[k], all[k-1] = all[k-1], all[k]
		}
	}
	return all
}

// NoWayError says that nothing that was tried can be used.
type NoWayError struct {
	Tally   Tally
	Nearest *Misfit // the one that misses by the least among those kept out by clearance, or nil
	Place   Place   // of Nearest
	Excess  Excess  // the least, where layouts fit and their metal carries too much
}

// Excess is a layout whose metal carries more current than allowed.
type Excess struct {
	Current     float64 // of all rods, A
	Most, Limit float64 // on their metal, A/m²
}

// error says how far the layouts that fit are from the limit, and at what current they would keep it.
func (x Excess) error(tried, fit int) string {
	return fmt.Sprintf("none of %d places can be used: %d fit, and their metal gives off more than %.0f A/m2 (common practice, no source), the least of them %.0f at %.2f A; "+
		"what would help: a supply limited to %.1f A (supply.limit), less soda, or a thicker rod (search.rods)",
		tried, fit, x.Limit, x.Most, x.Current, math.Floor(9.5*x.Current*x.Limit/x.Most)/10)
}

// Error implements error: the nearest miss, what keeps it out, and what would help.
func (e *NoWayError) Error() string {
	if n := e.Tally.Misfits[NotSpared]; n > 0 {
		return fmt.Sprintf("none of %d places can be used: %d fit, and give more to wall that is to be spared than allowed; what would help: to allow it more (aim.spare), or another opening", e.Tally.Tried, n)
	}
	if n := e.Tally.Misfits[OverLimit]; n > 0 {
		return e.Excess.error(e.Tally.Tried, n)
	}
	if e.Nearest != nil {
		by := e.Nearest.Error()
		if e.Nearest.By < 5e-5 {
			by = e.Nearest.Reason.String() + ", by less than 0.1 mm"
		}
		return fmt.Sprintf("none of %d places can be used; the nearest miss, a rod of %.1f mm with its tip at %v: %s; what would help: %s",
			e.Tally.Tried, 2000*e.Place.Radius, e.Place.Tip, by, e.Nearest.help())
	}
	why, help := "nothing fits", "a thinner rod or another opening"
	if r := e.Tally.Reasons(); len(r) > 0 {
		why = "mostly: " + r[0].String()
		help = r[0].Help()
	}
	return fmt.Sprintf("none of %d places can be used, %s; what would help: %s", e.Tally.Tried, why, help)
}

// Help says what would let rods in that a reason keeps out.
func (r Reason) Help() string { return (&Misfit{Reason: r}).help() }

// help says what would let a rod in.
func (m *Misfit) help() string {
	switch m.Reason {
	case NotThrough:
		return "a thinner rod (search.rods), less play (search.tolerance), or a wider opening"
	case NothingBare, TooNear:
		less := "a smaller search.clearance or search.tolerance"
		if m.By > 0 {
			less = fmt.Sprintf("%.1f mm less of search.clearance or search.tolerance", 1000*m.By)
		}
		return less + ", with spacers or a guard to keep metal off the wall, or another opening"
	case RodsMeet:
		return "fewer rods at once (search.count), thinner ones, or a second opening"
	case OverLimit:
		return "a thicker rod, or a supply with a lower limit"
	case Dry:
		return "a higher level (bath.level)"
	default:
		return "a thinner rod (search.rods), another opening, or bent rods (search.bent)"
	}
}
