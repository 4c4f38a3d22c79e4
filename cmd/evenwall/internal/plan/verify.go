package plan

import (
	"cmp"
	"context"
	"slices"

	"evenwall/field"
	"evenwall/field/search"
	"evenwall/geometry"
)

// looked is how many of the layouts found are solved closely: first on a lattice between
// the coarse and the fine one, the best of those on the fine one.
var looked = [2]int{20, 1 + shownOthers}

// between is the spacing of the lattice between, over that of the fine one.
const between = 1.5

// verify solves the best layouts, clearly different ones, and those that the search began from
// with the wall's own law, makes the best by that the best and those behind it the
// alternatives. The best of a robust search stays: the worst case is not what is solved here.
func (h *hunt) verify(ctx context.Context, found *search.Result, fine *Basin) (err error) {
	if h.Job.Search.Robust {
		shown := found.Alternatives[:min(shownOthers, len(found.Alternatives))]
		found.Alternatives, err = h.ranked(ctx, found, fine, forJudging, shown)
		return err
	}
	middle, err := h.NewBasin(between * fine.Laid.Liquid.Lattice.H)
	if err != nil {
		return err
	}
	all := append([]search.Candidate{found.Best}, found.Alternatives...)
	if all, err = h.ranked(ctx, found, middle, forChoosing, all[:min(looked[0], len(all))]); err != nil {
		return err
	}
	all = closest(all)
	for _, start := range found.Starts {
		if start.Misfit == nil && !holds(all, &start) {
			all = append(all, start)
		}
	}
	if all, err = h.ranked(ctx, found, fine, forJudging, all); err != nil {
		return err
	}
	found.Best, found.Alternatives = all[0], all[1:min(1+shownOthers, len(all))]
	if len(found.Stations) == 1 {
		found.Stations = nil
	}
	return nil
}

// closest returns the candidates to be solved on the fine lattice: the best, and the best with
// straight rods alone.
func closest(sorted []search.Candidate) []search.Candidate {
	n := min(looked[1], len(sorted))
	out := slices.Clone(sorted[:n])
	straight := func(c search.Candidate) bool { return !bentOnce(&c) }
	if k := slices.IndexFunc(sorted, straight); k >= n {
		out = append(out, sorted[k])
	}
	return out
}

// bentOnce reports whether a candidate has a bent rod.
func bentOnce(c *search.Candidate) bool {
	return slices.ContainsFunc(c.Places, func(p search.Place) bool { return p.Bend > 0 })
}

// holds reports whether a candidate is among others, rod by rod.
func holds(all []search.Candidate, c *search.Candidate) bool {
	return slices.ContainsFunc(all, func(o search.Candidate) bool {
		return slices.EqualFunc(o.Rods, c.Rods, func(a, b geometry.Rod) bool {
			return a.Radius == b.Radius && slices.Equal(a.Path, b.Path) && slices.Equal(a.Bare, b.Bare)
		})
	})
}

// ranked returns candidates by what a basin's lattice gives, the best first; those that break the
// limits of wall to be spared come last, by how much.
func (h *hunt) ranked(ctx context.Context, found *search.Result, b *Basin, how field.Settings, all []search.Candidate) ([]search.Candidate, error) {
	spare, err := h.spared(b, 1)
	if err != nil {
		return nil, err
	}
	out, over := slices.Clone(all), make([]float64, len(all))
	var links []int32
	if h.wall == nil {
		links = b.linksOn(h.coarse)
	}
	err = sideBySide(ctx, len(out), func(i int) error {
		mine := how
		mine.Guess = guess(out[i].Exposure.Rate, links)
		s, err := b.solve(ctx, h.anodes(&out[i]), mine)
		if err != nil {
			return err
		}
		out[i].Exposure = s.exposure(h.onto(s, out[i].Exposure.Rate))
		out[i].Verdict = search.Judge(found.Patches, aimOf(h.Job.Aim), &out[i].Exposure)
		over[i] = search.Over(spare, aimOf(h.Job.Aim), s.Density, out[i].Verdict.Finish)
		return nil
	})
	if err != nil {
		return nil, err
	}
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if over[a] > 0 || over[b] > 0 {
			return cmp.Compare(over[a], over[b])
		}
		return compare(out[a].Verdict, out[b].Verdict)
	})
	sorted := make([]search.Candidate, len(out))
	for i, k := range order {
		sorted[i] = out[k]
	}
	return sorted, nil
}

// guess returns what wall links carry, A/m², by what the patches do that they end on; nil without
// links.
func guess(rate []float64, links []int32) []float64 {
	if len(rate) == 0 || links == nil {
		return nil
	}
	out := make([]float64, len(links))
	for i, k := range links {
		if k >= 0 {
			out[i] = rate[k]
		}
	}
	return out
}
