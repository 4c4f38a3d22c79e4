package search

// climber is a layout being improved.
type climber struct {
	at    *record
	scale float64 // of every step
}

// leastScale is where a climber stops: steps of a millimetre, the raster of places.
const leastScale = 1.0 / 32

// refine improves the best single rods.
func (r *run) refine() error {
	r.enter(Refining, r.Refine)
	return r.climb(1, r.Refine)
}

// climb improves the best layouts of a number of rods, at most budget more evaluated. All
// climbers look about themselves in one batch, then step along what they found. The worst
// one is left behind every second round.
func (r *run) climb(rods, budget int) error {
	climbers := r.climbers(rods)
	for round := 0; budget > 0 && len(climbers) > 0; round++ {
		looks, spent, err := r.look(climbers, budget)
		if err != nil {
			return err
		}
		budget -= spent
		spent, err = r.stride(climbers, looks, budget)
		if err != nil {
			return err
		}
		budget -= spent
		climbers = r.leave(climbers, round%2 == 1)
	}
	return nil
}

// climbers returns the best layouts that are clearly different.
func (r *run) climbers(rods int) []*climber {
	var out []*climber
	for _, rec := range r.distinct(r.Climbers, rods) {
		if fitted := r.fit(rec.wish); fitted != nil && rec.places == nil {
			rec = r.entered(rec, fitted)
		}
		out = append(out, &climber{rec, 1})
	}
	return out
}

// entered gives a start the places that it is improved from.
func (r *run) entered(start, fitted *record) *record {
	copied := *start
	copied.places = fitted.places
	return &copied
}

// seen is a move and where it led.
type seen struct {
	move   move
	record *record
}

// look evaluates every single move of every climber.
func (r *run) look(climbers []*climber, budget int) ([][]seen, int, error) {
	looks := make([][]seen, len(climbers))
	var batch []*record
	for i, c := range climbers {
		for _, m := range c.moves() {
			if m, rec := r.near(c, m); rec != nil {
				looks[i] = append(looks[i], seen{m, rec})
				batch = append(batch, rec)
			}
		}
	}
	batch, spent, err := r.try(batch, budget)
	if err != nil {
		return nil, 0, err
	}
	for i := range looks {
		for k := range looks[i] {
			looks[i][k].record, batch = batch[0], batch[1:]
		}
	}
	return looks, spent, nil
}

// moves returns every single move of a climber at its scale.
func (c *climber) moves() []move {
	var all []move
	for rod := range c.at.places {
		for w := range way(waysCount) {
			by := w.full() * c.scale
			if w == thickness {
				by = 1
				if c.scale < 1.0/8 {
					continue
				}
			}
			all = append(all, move{rod, w, by}, move{rod, w, -by})
		}
	}
	return all
}

// near makes a move, shortened as often as it takes to fit.
func (r *run) near(c *climber, m move) (move, *record) {
	for range 3 {
		rec := r.fit(r.space.apply(c.at.wish, c.at.places, m))
		if rec != nil && keyOf(rec.places) == keyOf(c.at.places) {
			return m, nil
		}
		if rec != nil || m.way == thickness {
			return m, rec
		}
		m.by /= 2
	}
	return m, nil
}

// stride evaluates steps that join the moves that helped, and moves each climber to the
// best that is known; one that found nothing better takes smaller steps.
func (r *run) stride(climbers []*climber, looks [][]seen, budget int) (int, error) {
	steps := make([][]*record, len(climbers))
	var batch []*record
	for i, c := range climbers {
		for _, moves := range joined(helpful(c.at, looks[i])) {
			if rec := r.fit(r.space.apply(c.at.wish, c.at.places, moves...)); rec != nil {
				steps[i] = append(steps[i], rec)
				batch = append(batch, rec)
			}
		}
	}
	batch, spent, err := r.try(batch, budget)
	if err != nil {
		return 0, err
	}
	for i, c := range climbers {
		best := c.at
		for _, s := range looks[i] {
			best = better(best, s.record)
		}
		for range steps[i] {
			best, batch = better(best, batch[0]), batch[1:]
		}
		if best == c.at {
			c.scale /= 2
		}
		c.at = best
	}
	return spent, nil
}

// better returns the better of a and b; b may be nil or break a limit.
func better(a, b *record) *record {
	if b != nil && b.misfit == nil && b.verdict.Better(a.verdict) {
		return b
	}
	return a
}

// helpful returns the moves that led to something better, the best first, one for each way
// of each rod.
func helpful(at *record, looks []seen) []seen {
	var out []seen
	for _, s := range looks {
		if better(at, s.record) == at {
			continue
		}
		k := len(out)
		for k > 0 && s.record.verdict.Better(out[k-1].record.verdict) {
			k--
		}
		out = append(out, seen{})
		copy(out[k+1:], out[k:])
		out[k] = s
	}
	var first []seen
	for _, s := range out {
		same := false
		for _, f := range first {
			same = same || f.move.rod == s.move.rod && f.move.way == s.move.way
		}
		if !same {
			first = append(first, s)
		}
	}
	return first
}

// joined returns the steps to try: the best move twice as far, the best two and three
// together, all together, and all twice and half as far.
func joined(s []seen) [][]move {
	if len(s) == 0 {
		return nil
	}
	take := func(n int, by float64) []move {
		var moves []move
		for _, one := range s[:min(n, len(s))] {
			m := one.move
			if m.way != thickness {
				m.by *= by
			}
			moves = append(moves, m)
		}
		return moves
	}
	steps := [][]move{take(1, 2)}
	for n := 2; n <= 3 && n < len(s); n++ {
		steps = append(steps, take(n, 1))
	}
	if len(s) > 1 {
		steps = append(steps, take(len(s), 1), take(len(s), 2), take(len(s), 0.5))
	}
	return steps
}

// leave drops climbers that have come to their smallest step or to where a better one is,
// and, when asked, the worst of those left.
func (r *run) leave(climbers []*climber, worst bool) []*climber {
	var out []*climber
	for _, c := range climbers {
		keep := c.scale >= leastScale
		for _, o := range out {
			keep = keep && !alike(c.at, o.at)
		}
		if keep {
			out = append(out, c)
		}
	}
	if worst && len(out) > 1 {
		last := 0
		for i, c := range out {
			if !c.at.verdict.Better(out[last].at.verdict) {
				last = i
			}
		}
		out = append(out[:last], out[last+1:]...)
	}
	return out
}
