package plan

import (
	"context"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
)

// The lattices that a figure is held against: one coarser, and one of the same spacing moved
// by half a cell along x and y.
const (
	coarser = 1.5
	order   = 1.5 // by which errors fall with the spacing, at least
)

// CheckedCurrent is Current that also solves on a coarser and on a shifted lattice, and says
// beside each figure how far it may be off.
func CheckedCurrent(ctx context.Context, j *job.Job, show Progress) (*report.Answer, error) {
	a, err := Current(ctx, j, show)
	if err != nil {
		return nil, err
	}
	s := j.First()
	t, err := NewTank(ctx, j, s.Attitude)
	if err != nil {
		return nil, err
	}
	h := field.DefaultSpacing(t.Filling.Volume)
	sure := sureness{base: a.Result, least: j.Aim.Least}
	for _, g := range []field.Grid{{Spacing: coarser * h}, {Spacing: h, Shift: [2]float64{0.5, 0.5}}} {
		show("solving on another lattice", 0, 0)
		b, err := t.layOn(g)
		if err != nil {
			return nil, err
		}
		other, err := b.Solve(ctx, s.Anodes)
		if err != nil {
			return nil, err
		}
		sure.hold(other, g.Spacing/h)
	}
	show("solving with gas and warm layers", 0, 0)
	if sure.out.Uneven, err = t.unevenBath(ctx, s.Anodes); err != nil {
		return nil, err
	}
	sure.out.GasPercent = -sure.out.Uneven[0].CurrentPercent
	a.Result.Wall.Sure = &sure.out
	return a, nil
}

// sureness collects the error estimates.
type sureness struct {
	base  report.Result
	least float64
	out   report.Sure
}

// hold adds what a solve on another lattice says. Of a coarser one the difference is carried
// on to no spacing at all by the order (Richardson 1911); the scatter with the lattice's
// place counts as it is. The two are added.
func (s *sureness) hold(other *Solved, ratio float64) {
	share := 1.0
	if ratio > 1 {
		share = 1 / (math.Pow(ratio, order) - 1)
	}
	off := func(to *float64, a, b, recovered float64) {
		if b != 0 {
			*to += 100 * share * math.Abs(a*recovered/b-1)
		}
	}
	off(&s.out.CurrentPercent, other.Current, s.base.Cell.CurrentA, 1)
	// by the densities as recovered: what a coarse rim has too much is not taken from all the wall
	recovered := other.Closure / s.base.Wall.FluxClosure
	mine, theirs, p := &s.base.Wall.PercentileAM2, other.wall().PercentileAM2, &s.out.PercentilePercent
	off(&p.P1, theirs.P1, mine.P1, recovered)
	off(&p.P5, theirs.P5, mine.P5, recovered)
	off(&p.P25, theirs.P25, mine.P25, recovered)
	off(&p.P50, theirs.P50, mine.P50, recovered)
	off(&p.P75, theirs.P75, mine.P75, recovered)
	off(&p.P95, theirs.P95, mine.P95, recovered)
	off(&p.P99, theirs.P99, mine.P99, recovered)
	s.out.ReachPercent += 100 * share * math.Abs(1-other.Even.Below(s.least/recovered)-s.base.Wall.ReachFraction)
	s.out.SpacingsMM = append(s.out.SpacingsMM, 1000*other.Basin.Laid.Liquid.Lattice.H)
}
