package plan

import (
	"context"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field"
	"evenwall/field/search"
	"evenwall/field/station"
	"evenwall/geometry"
)

// mostCells is in how many cells a tank is judged, at most: a table of layouts takes time and
// memory as the square of their number.
const mostCells = 30e3

// judgeSpacing returns the spacing, m, of the lattice that candidates are judged on, and on
// whose patches reach and hours are reckoned: 8 mm, or coarser in a large vessel.
func (t *Tank) judgeSpacing() float64 {
	return math.Max(8e-3, math.Cbrt(t.Filling.Volume/mostCells))
}

// forJudging is how closely a candidate is solved: its figures to about 0.1 %.
var forJudging = field.Settings{Tolerance: 1e-5, Settled: 1e-3}

// forChoosing is how closely those are solved from which the best go on to be judged: the last round
// of Newton's method leaves about the square of what it changed.
var forChoosing = field.Settings{Tolerance: 1e-5, Settled: 1e-2}

// direct is a search.Evaluator that solves the field of every candidate.
type direct struct {
	basin *Basin
	law   job.Law // of the rods' metal
}

// Evaluate implements search.Evaluator.
func (d *direct) Evaluate(ctx context.Context, rods []geometry.Rod) (search.Exposure, error) {
	anodes := make([]job.Anode, len(rods))
	for i := range rods {
		anodes[i] = job.Anode{Rod: rods[i], Law: d.law}
	}
	s, err := d.basin.solve(ctx, anodes, forJudging)
	if err != nil {
		return search.Exposure{}, err
	}
	return s.exposure(s.recovered()), nil
}

// recovered returns the densities as they were recovered, A/m²: where a rim is too coarse,
// scaling would take from all the wall.
func (s *Solved) recovered() []float64 {
	density := append([]float64(nil), s.Density...)
	for i := range density {
		density[i] *= s.Closure
	}
	return density
}

// exposure returns what a solved layout does, its densities on whichever patches given.
func (s *Solved) exposure(density []float64) search.Exposure {
	_, most := s.strongest()
	e := search.Exposure{Current: s.Current, Rate: density, AtLimit: 1, AnodeMost: most}
	if limit := s.Basin.Job.Supply.Limit; limit > 0 && s.Current > 0 {
		e.AtLimit = math.Max(1, limit/s.Current)
	}
	return e
}

// onto returns the densities of a solved layout on the patches of another basin of the same
// tank: the mean over its own patches that lie there, and instead, where none does.
func (s *Solved) onto(coarse *Basin, instead []float64) []float64 {
	to, from := coarse.Recovery().Patches, s.Basin.Recovery().Patches.All
	current, area := make([]float64, len(to.All)), make([]float64, len(to.All))
	finder := to.Finder()
	for i := range from {
		if k, ok := finder.Nearest(from[i].Centre, from[i].Normal); ok {
			current[k] += s.Density[i] * from[i].Area
			area[k] += from[i].Area
		}
	}
	for k := range current {
		if area[k] > 0 {
			current[k] /= area[k]
		} else {
			current[k] = instead[k]
		}
	}
	return current
}

// linksOn returns the patch of another basin of the same tank that each of the lattice's wall
// links ends on, -1 where there is none.
func (b *Basin) linksOn(coarse *Basin) []int32 {
	finder := coarse.Recovery().Patches.Finder()
	out := make([]int32, len(b.Laid.Liquid.Walls))
	for i := range out {
		out[i] = -1
		if k, ok := finder.Nearest(b.Laid.WallEnd(i)); ok {
			out[i] = k
		}
	}
	return out
}

// areas returns the area of each patch of a basin, m².
func (b *Basin) areas() []float64 {
	out := make([]float64, len(b.Recovery().Patches.All))
	for i, p := range b.Recovery().Patches.All {
		out[i] = p.Area
	}
	return out
}

// aimOf returns a job's aim as stations are planned for it.
func aimOf(a job.Aim) station.Aim {
	return station.Aim{Charge: a.Charge, Least: a.Least, Most: a.Most, Share: a.Share, Within: a.Within, LeastCharge: a.LeastCharge}
}
