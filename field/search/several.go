package search

// basesKept is how many of the best layouts a further rod is added to.
const basesKept = 2

// addRods adds rods one at a time to the best layouts and improves all places together.
func (r *run) addRods() error {
	for rods := 2; rods <= r.Count; rods++ {
		r.enter(Scattering, r.Scatter)
		bases := r.distinct(basesKept, rods-1)
		for i, base := range bases {
			if err := r.add(base, r.Scatter/len(bases), uint64(10*rods+i)); err != nil {
				return err
			}
		}
		r.enter(Refining, r.Refine*rods)
		if err := r.climb(rods, r.Refine*rods); err != nil {
			return err
		}
	}
	return nil
}

// add evaluates n layouts of a base and one rod more.
func (r *run) add(base *record, n int, salt uint64) error {
	s := newSpray(r.Seed + 1 + salt)
	found := r.spread(s, n, base.wish, r.anyRod)
	_, _, err := r.try(found, n)
	return err
}
