package plan

import (
	"context"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
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
	estimate := field.UsualEstimate()
	var others [2]*Solved
	for i, g := range estimate.Grids(field.DefaultSpacing(t.Filling.Volume)) {
		show("solving on another lattice", 0, 0)
		b, err := t.layOn(g)
		if err != nil {
			return nil, err
		}
		if others[i], err = b.Solve(ctx, s.Anodes); err != nil {
			return nil, err
		}
	}
	sure := sureOf(&a.Result, j.Aim.Least, estimate, others)
	show("solving with gas and warm layers", 0, 0)
	if sure.Uneven, err = t.unevenBath(ctx, s.Anodes); err != nil {
		return nil, err
	}
	sure.GasPercent = -sure.Uneven[0].CurrentPercent
	a.Result.Wall.Sure = sure
	return a, nil
}

// sureOf estimates the error of each figure from the solves on the other lattices. Densities
// are taken as recovered: what a coarse rim has too much is not taken from all the wall.
func sureOf(base *report.Result, least float64, estimate field.Estimate, others [2]*Solved) *report.Sure {
	out := &report.Sure{CurrentPercent: 100 * estimate.Of(base.Cell.CurrentA, others[0].Current, others[1].Current)}
	var theirs [2]report.Percentiles
	var recovered, reached [2]float64
	for i, o := range others {
		recovered[i] = o.Closure / base.Wall.FluxClosure
		theirs[i] = o.wall().PercentileAM2
		reached[i] = 1 - o.Even.Below(least/recovered[i])
		out.SpacingsMM = append(out.SpacingsMM, 1000*o.Basin.Laid.Liquid.Lattice.H)
	}
	of := func(figure, coarse, moved float64) float64 {
		return 100 * estimate.Of(figure, coarse*recovered[0], moved*recovered[1])
	}
	mine, a, b := &base.Wall.PercentileAM2, &theirs[0], &theirs[1]
	out.PercentilePercent = report.Percentiles{P1: of(mine.P1, a.P1, b.P1), P5: of(mine.P5, a.P5, b.P5), P25: of(mine.P25, a.P25, b.P25),
		P50: of(mine.P50, a.P50, b.P50), P75: of(mine.P75, a.P75, b.P75), P95: of(mine.P95, a.P95, b.P95), P99: of(mine.P99, a.P99, b.P99)}
	mineReached := base.Wall.ReachFraction
	out.ReachPercent = 100 * mineReached * estimate.Of(mineReached, reached[0], reached[1])
	return out
}
