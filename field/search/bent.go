package search

import (
	"math"

	"evenwall/geometry"
)

// bentShare is how many straight rods are looked at for each bent one in finding the wall that
// can be reached.
const bentShare = 4

// bend looks for bent rods: the best straight ones bent, and others all over the space; and for
// flexible anodes. Only of those that do best it is found out whether they can be threaded in.
func (r *run) bend() error {
	if !r.space.Bent && !r.space.Flexible {
		return nil
	}
	r.enter(Bending, r.Scatter+r.Refine)
	var found []*record
	if r.space.Bent {
		for _, from := range r.distinct(kinkedKept, 1) {
			found = append(found, r.kinks(from)...)
		}
	}
	found = append(found, r.spreadBent(r.Seed+1, r.Scatter)...)
	found = append(found, r.spreadFlexible(r.Seed+2, r.Scatter/2)...)
	_, spent, err := r.try(found, r.Scatter+r.Refine/2)
	if err != nil {
		return err
	}
	best, err := r.bestApart(r.bent, r.Climbers)
	if err != nil {
		return err
	}
	var climbers []*climber
	for _, rec := range best {
		climbers = append(climbers, &climber{rec, 1})
	}
	err = r.climbFrom(climbers, 1, r.Scatter+r.Refine-spent)
	r.bent = nil
	return err
}

// How straight rods are bent to begin with.
const (
	kinkedKept = 3 // of the best straight ones
	kinkRound  = 6 // directions all round
)

// kinks returns a straight layout's rod bent in several places, by several angles and ways round.
func (r *run) kinks(from *record) []*record {
	p := from.wish[0]
	if p.Bend > 0 {
		return nil
	}
	at := r.space.passes(p)
	shank := at.Sub(p.Tip)
	u, v := shank.Perpendicular()
	var out []*record
	for _, part := range [3]float64{0.35, 0.5, 0.7} {
		for _, angle := range [3]float64{math.Pi / 6, math.Pi / 3, math.Pi / 2} {
			for k := range kinkRound {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / kinkRound)
				aside, long := u.Scale(cos).AddScaled(v, sin), part*shank.Norm()
				q := p
				q.Bend, q.Corner = r.space.bendOf(p.Radius), p.Tip.AddScaled(shank, part)
				q.Tip = q.Corner.AddScaled(shank.Unit(), -long*math.Cos(angle)).AddScaled(aside, long*math.Sin(angle))
				if rec := r.fit(layout{q}); rec != nil {
					out = append(out, rec)
				}
			}
		}
	}
	return out
}

// spreadBent returns up to n bent rods that fit, drawn by corner and tip evenly over the space
// under the liquid; none where the space has no bent ones.
func (r *run) spreadBent(seed uint64, n int) []*record {
	if !r.space.Bent {
		return nil
	}
	box := r.space.under()
	size := box.Size()
	return r.spread(newSprayOf(seed, bentSprayDimensions), n, nil, func(_ int, p Place, x []float64) Place {
		p.Radius = r.space.Radii[int(x[0]*float64(len(r.space.Radii)))]
		p.Bend, p.Corner = r.space.bendOf(p.Radius), p.Tip
		p.Tip = box.Min.Add(geometry.V(x[3]*size.X, x[4]*size.Y, x[5]*size.Z))
		p.Bare = someBare(x[1], x[2], r.space.Depth(p))
		return p
	})
}

// leastAdded is the share of the wall that a bent rod must add to what can be reached: less is not
// worth the look for its way in.
const leastAdded = 1e-3

// reachBent adds the wall that only bent rods reach: of evaluated ones always the one that adds
// the most, as long as one adds enough.
func (r *run) reachBent(bent []*record) error {
	if err := r.evaluate(bent); err != nil {
		return err
	}
	total := 0.0
	for _, a := range r.Area {
		total += a
	}
	for {
		var best *record
		most := leastAdded * total
		for _, rec := range bent {
			added := 0.0
			r.reaches(rec, func(patch int) {
				if !r.patches.Reachable[patch] {
					added += r.Area[patch]
				}
			})
			if rec.misfit == nil && added > most {
				best, most = rec, added
			}
		}
		if best == nil {
			return nil
		}
		if r.seekWay([]*record{best}); best.misfit == nil {
			r.reaches(best, func(patch int) { r.patches.Reachable[patch] = true })
		}
	}
}
