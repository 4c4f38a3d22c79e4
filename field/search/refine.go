package search

// climber is a layout being improved.
type climber struct {
	at    *record
	scale float64 // of every step
}

// The best layout is climbed from again, with steps of this scale, while the budget lasts.
const (
	restartsKept = 4
	restartScale = 0.25
)

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
	return r.climbFrom(r.climbers(r.Climbers, rods, 1), rods, budget)
}

// climbFrom is climb from given climbers.
func (r *run) climbFrom(climbers []*climber, rods, budget int) error {
	restarts := restartsKept
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
		if len(climbers) == 0 && restarts > 0 {
			restarts--
			climbers = r.climbers(1, rods, restartScale)
		}
	}
	return nil
}

// climbers returns the n best layouts that are clearly different, at their first steps.
func (r *run) climbers(n, rods int, scale float64) []*climber {
	var out []*climber
	for _, rec := range r.distinct(n, rods) {
		if fitted := r.fit(rec.wish); fitted != nil && rec.places == nil {
			rec = r.entered(rec, fitted)
		}
		out = append(out, &climber{rec, scale})
	}
	return out
}

// entered gives a start the places that it is improved from.
func (r *run) entered(start, fitted *record) *record {
	copied := *start
	copied.places = fitted.places
	return &copied
}

// seen is a step and where it led.
type seen struct {
	step   []move
	record *record
}

// look evaluates every single move of every climber.
func (r *run) look(climbers []*climber, budget int) ([][]seen, int, error) {
	looks := make([][]seen, len(climbers))
	var batch []*record
	for i, c := range climbers {
		for _, step := range append(c.moves(), r.slants(c)...) {
			if step, rec := r.near(c, step); rec != nil {
				looks[i] = append(looks[i], seen{step, rec})
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

// near makes a step, shortened as often as it takes to fit.
func (r *run) near(c *climber, step []move) ([]move, *record) {
	for range 3 {
		rec := r.fit(r.space.apply(c.at.wish, c.at.places, step...))
		if rec != nil && keyOf(rec.places) == keyOf(c.at.places) {
			return step, nil
		}
		if rec != nil {
			return step, rec
		}
		step = lengthened(step, 0.5)
	}
	return step, nil
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
	seen := make([][]*record, len(climbers))
	for i := range climbers {
		for _, s := range looks[i] {
			seen[i] = append(seen[i], s.record)
		}
		seen[i] = append(seen[i], batch[:len(steps[i])]...)
		batch = batch[len(steps[i]):]
	}
	best, err := r.bestOfEach(climbers, seen)
	if err != nil {
		return 0, err
	}
	for i, c := range climbers {
		if best[i] == c.at {
			c.scale /= 2
		}
		c.at = best[i]
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
