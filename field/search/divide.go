package search

import "evenwall/geometry"

// mostStretches is how many bare stretches a search can give a rod.
const mostStretches = 2

// divide splits the bare stretch of the best layouts in two, or bares a second one, and improves
// those that do best, however they compare with what they came from: half the layouts are solved
// that improving took before.
func (r *run) divide() error {
	if r.space.Stretches < mostStretches {
		return nil
	}
	for rods := 1; rods <= r.Count; rods++ {
		budget := r.Refine * rods / 2
		r.enter(Dividing, budget)
		var split []*record
		for _, from := range r.distinct(r.Climbers, rods) {
			split = append(split, r.splits(from)...)
		}
		split, spent, err := r.try(split, budget)
		if err != nil {
			return err
		}
		best, err := r.bestSplits(split)
		if err != nil {
			return err
		}
		if err := r.climbFrom(best, rods, budget-spent); err != nil {
			return err
		}
	}
	return nil
}

// splits returns the layouts that have one rod's stretch in two.
func (r *run) splits(from *record) []*record {
	var out []*record
	for i := range from.places {
		for _, two := range r.space.inTwo(from.places[i]) {
			wish := append(layout(nil), from.places...)
			wish[i].Bare, wish[i].More = two[0], two[1]
			if rec := r.fit(wish); rec != nil && rec.places[i].More.Length() > 0 {
				out = append(out, rec)
			}
		}
	}
	return out
}

// inTwo returns pairs of stretches to try instead of a place's one: with a gap of a quarter or a
// half of it about its middle or nearer to either end, or with a further stretch above or below it.
func (s *Space) inTwo(p Place) [][2]geometry.Span {
	if p.More.Length() > 0 {
		return nil
	}
	var out [][2]geometry.Span
	from, length := p.Bare.From, p.Bare.Length()
	for _, gap := range [2]float64{0.25, 0.5} {
		for _, middle := range [3]float64{0.35, 0.5, 0.65} {
			low, high := from+(middle-gap/2)*length, from+(middle+gap/2)*length
			out = append(out, [2]geometry.Span{{From: from, To: low}, {From: high, To: p.Bare.To}})
		}
	}
	gap := max(2*s.Shortest, length/4)
	out = append(out, [2]geometry.Span{p.Bare, {From: p.Bare.To + gap, To: s.Depth(p)}})
	if low := from - gap; low > s.Shortest {
		out = append(out, [2]geometry.Span{{To: low}, p.Bare}, [2]geometry.Span{{To: low / 2}, p.Bare})
	}
	return out
}

// bestSplits returns climbers at the best of the records that keep the limits.
func (r *run) bestSplits(split []*record) ([]*climber, error) {
	best, err := r.bestApart(split, r.Climbers)
	var out []*climber
	for _, rec := range best {
		out = append(out, &climber{rec, 0.5})
	}
	return out, err
}
