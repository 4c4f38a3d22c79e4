package search

// moves returns every single move of a climber at its scale.
func (c *climber) moves() [][]move {
	var all [][]move
	for rod, place := range c.at.places {
		for _, w := range place.ways() {
			by := w.full() * c.scale
			all = append(all, []move{{rod, w, by}}, []move{{rod, w, -by}})
		}
		if c.scale >= 1.0/8 {
			all = append(all, []move{{rod, thickness, 1}}, []move{{rod, thickness, -1}})
		}
	}
	return all
}

// slantsKept is how many steps askew a climber tries besides its single moves. Where the
// worst-served patches lie on two sides, every single move makes one of them worse, and
// only a step askew leads on.
const slantsKept = 6

// slants returns steps of all moves at once, drawn by chance, about as long as a single move.
func (r *run) slants(c *climber) [][]move {
	var all [][]move
	for range slantsKept {
		var step []move
		for rod, place := range c.at.places {
			for _, w := range place.ways() {
				step = append(step, move{rod, w, w.full() * c.scale * r.chance.NormFloat64() / 2})
			}
		}
		all = append(all, step)
	}
	return all
}

// lengthened returns a step so many times as long; what thickness it changes stays.
func lengthened(step []move, by float64) []move {
	out := append([]move(nil), step...)
	for i := range out {
		if out[i].way != thickness {
			out[i].by *= by
		}
	}
	return out
}

// helpful returns the steps that led to something better, the best first, one for each way
// of each rod and one askew.
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
			same = same || f.step[0].rod == s.step[0].rod && f.step[0].way == s.step[0].way && len(f.step) == len(s.step)
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
		var step []move
		for _, one := range s[:min(n, len(s))] {
			step = append(step, lengthened(one.step, by)...)
		}
		return step
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
