package station

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// Schedule is how long the rods hang at each of several stations in turn.
type Schedule struct {
	Seconds []float64 // at each station, in the order given; 0 for one that does not help
	Finish  Finish    // of the whole schedule; never when the stations together cannot give the share its charge
	Bound   float64   // no times at these stations give the needed patches their charge sooner, s
	Needed  []bool    // the patches that the times were made for
	Charge  []float64 // working charge that each patch has at the end, C/m²

	patches Patches
	aim     Aim
	rates   [][]float64
}

// Plan finds times for stations with the given working rates, A/m², one slice a station
// and one rate a patch.
//
// Which patches make up the share is a choice; the times for a choice are a linear
// programme. Choice and times are improved in turn from several starts, and the total
// never rises on the way. That is a heuristic: Bound holds for the patches chosen, not
// for any other choice. Where the share is out of reach the times are for the same share
// of what the stations do reach. A station added at the end never makes the total longer.
//
// With a time to keep within, the times are for the greatest share found that it suffices for;
// Bound is then for that share, the times add up to the time given, and Finish is when the aim's
// own share would have its charge by them, in their proportion.
func Plan(p Patches, a Aim, rates [][]float64) (*Schedule, error) {
	if err := a.Check(); err != nil {
		return nil, err
	}
	if len(rates) == 0 {
		return nil, errors.New("no station to plan for: give at least one")
	}
	for s, r := range rates {
		if len(r) != len(p.Area) {
			return nil, fmt.Errorf("station %d has %d patches, the wall %d: solve all stations on the same patches", s+1, len(r), len(p.Area))
		}
	}
	if a.Within > 0 {
		return planWithin(p, a, rates)
	}
	return plan(p, a, rates)
}

func plan(p Patches, a Aim, rates [][]float64) (*Schedule, error) {
	c := newChooser(p, a, rates)
	best, err := c.chain()
	if err != nil {
		return nil, err
	}
	return c.schedule(best), nil
}

// halvings is how often the share that a time suffices for is halved between two.
const halvings = 12

// planWithin finds the times for the greatest share that the time of the aim suffices for, and
// spreads what is left of it over the stations.
func planWithin(p Patches, a Aim, rates [][]float64) (*Schedule, error) {
	low, high := 0.0, 1.0
	var best *Schedule
	for range halvings {
		try := a
		try.Share = (low + high) / 2
		s, err := plan(p, try, rates)
		if err != nil {
			return nil, err
		}
		if s.Finish.Ever && s.Total() <= a.Within {
			low, best = try.Share, s
		} else {
			high = try.Share
		}
	}
	if best == nil { // too short for any: half of what share there is, so that some wall gets on
		try := a
		try.Share = 0.5
		var err error
		if best, err = plan(p, try, rates); err != nil {
			return nil, err
		}
	}
	if total := best.Total(); total > 0 {
		best.Seconds = scaled(best.Seconds, a.Within/total)
		best.Charge = chargeAfter(rates, best.Seconds)
		kept, err := Keep(p, a, rates, best.Seconds)
		if err != nil {
			return nil, err
		}
		best.Finish = kept.Finish
	}
	return best, nil
}

// schedule fills in what follows from the times.
func (c *chooser) schedule(best choice) *Schedule {
	s := &Schedule{
		Seconds: scaled(best.times, c.aim.Charge), Bound: best.bound * c.aim.Charge,
		Needed: best.needed, patches: c.patches, aim: c.aim, rates: c.rates,
	}
	if len(best.times) == 0 {
		s.Seconds, s.Needed = make([]float64, len(c.rates)), make([]bool, len(c.patches.Area))
	}
	s.Charge = chargeAfter(c.rates, s.Seconds)
	if c.within {
		s.Finish = Finish{true, sum(s.Seconds)}
	}
	return s
}

// Total returns the time at all stations together, s.
func (s *Schedule) Total() float64 { return sum(s.Seconds) }

// ReachedAfter returns the share of the reachable area that has its charge after each of
// the given times, s, while the stations are worked through in their order and, past the
// end, from the first again.
func (s *Schedule) ReachedAfter(seconds ...float64) []float64 {
	shares := make([]float64, len(seconds))
	for i, t := range seconds {
		charge := chargeAfter(s.rates, s.spent(t))
		shares[i] = s.patches.shareAbove(charge, s.aim.Charge)
	}
	return shares
}

// spent returns the time at each station when t seconds have gone by.
func (s *Schedule) spent(t float64) []float64 {
	total := s.Total()
	if total <= 0 {
		return make([]float64, len(s.Seconds))
	}
	rounds := math.Floor(t / total)
	spent, left := scaled(s.Seconds, rounds), t-rounds*total
	for i, at := range s.Seconds {
		spent[i] += math.Max(0, math.Min(at, left))
		left -= at
	}
	return spent
}

// chargeAfter returns each patch's working charge, C/m².
func chargeAfter(rates [][]float64, seconds []float64) []float64 {
	charge := make([]float64, len(rates[0]))
	for s, rate := range rates {
		for i, r := range rate {
			charge[i] += r * seconds[s]
		}
	}
	return charge
}

// choice is a set of patches and times that give each of them a charge of 1.
type choice struct {
	cover
	needed []bool
}

// chooser looks for the patches that make up the share.
type chooser struct {
	patches Patches
	aim     Aim
	rates   [][]float64
	need    float64 // m²
	within  bool    // the stations together can give the whole share its charge
}

func newChooser(p Patches, a Aim, rates [][]float64) *chooser {
	c := &chooser{patches: p, aim: a, rates: rates}
	covered := 0.0
	for i := range p.Area {
		if p.counts(i) && anyAbove(rates, i) {
			covered += p.worth(i)
		}
	}
	c.need = a.Share * p.reachable()
	c.within = covered > 0 && covered >= c.need*(1-rounding)
	if !c.within {
		c.need = a.Share * covered
	}
	return c
}

func anyAbove(rates [][]float64, i int) bool {
	for _, r := range rates {
		if r[i] > 0 {
			return true
		}
	}
	return false
}

// chain plans for the first station alone, then with each further one, starting from what
// it has.
func (c *chooser) chain() (choice, error) {
	best := choice{}
	for k := 1; k <= len(c.rates); k++ {
		part := &chooser{patches: c.patches, rates: c.rates[:k], need: c.need}
		starts := directions(k)
		if best.times != nil {
			best.times = append(best.times, 0)
			starts = append(starts, best.times)
		}
		next, err := part.best(starts)
		if err != nil {
			return choice{}, err
		}
		if next.times != nil && (best.times == nil || next.total() < best.total()) {
			best = next
		}
	}
	return best, nil
}

// startsKept is how many of the starting directions are improved.
const startsKept = 3

// best improves the most promising starts and returns the best end. Its times are nil
// when no start serves the share.
func (c *chooser) best(starts [][]float64) (choice, error) {
	var found []choice
	for _, d := range starts {
		if first, ok := c.along(d); ok {
			found = append(found, first)
		}
	}
	sort.SliceStable(found, func(i, k int) bool { return found[i].total() < found[k].total() })
	best := choice{}
	for _, start := range found[:min(startsKept, len(found))] {
		end, err := c.improve(start)
		if err != nil {
			return choice{}, err
		}
		if best.times == nil || end.total() < best.total() {
			best = end
		}
	}
	return best, nil
}

// along returns the least multiple of the times d that serves the share, and whom it
// serves.
func (c *chooser) along(d []float64) (choice, bool) {
	got := chargeAfter(c.rates, d)
	bar, ok := c.patches.quantile(got, c.need)
	if !ok {
		return choice{}, false
	}
	next := choice{cover{scaled(d, 1/bar), 0}, make([]bool, len(got))}
	for i, v := range got {
		next.needed[i] = c.patches.counts(i) && v >= bar*(1-rounding)
	}
	return next, true
}

// improve solves the programme for the patches chosen, chooses anew by its times, and
// repeats while the total falls.
func (c *chooser) improve(at choice) (choice, error) {
	for {
		exact, err := c.exact(at.needed)
		if err != nil {
			return choice{}, err
		}
		if exact.total() > at.total() {
			exact.times = at.times
		}
		next, ok := c.along(exact.times)
		if !ok || next.total() >= at.total()*(1-1e-9) {
			return choice{exact, at.needed}, nil
		}
		at = next
	}
}

// exact solves the programme for a set of patches.
func (c *chooser) exact(needed []bool) (cover, error) {
	g := programme{rates: c.rates}
	for i, in := range needed {
		if in {
			g.needed = append(g.needed, i)
		}
	}
	return g.solve()
}

// directions returns times to start from: every way of splitting a number of equal parts
// among k stations, so many parts that there are some dozens of ways.
func directions(k int) [][]float64 {
	parts := 1
	for ways(k, parts+1) <= 60 && parts < 24 {
		parts++
	}
	var all [][]float64
	var split func(prefix []float64, left int)
	split = func(prefix []float64, left int) {
		if len(prefix) == k-1 {
			all = append(all, append(append([]float64(nil), prefix...), float64(left)))
			return
		}
		for n := 0; n <= left; n++ {
			split(append(prefix, float64(n)), left-n)
		}
	}
	split(nil, parts)
	return all
}

// ways returns how many ways there are to split parts among k.
func ways(k, parts int) int {
	n := 1
	for i := 1; i < k; i++ {
		n = n * (parts + i) / i
	}
	return n
}
