package plan

import (
	"context"
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/paper"
	"evenwall/cmd/evenwall/internal/report"
)

// Sheet works out the plan at the bench and draws its pages. What the plan is refused for is
// an error; a limit that is not met leaves the pages out.
func Sheet(ctx context.Context, j *job.Job, style paper.Style, show Progress) (*report.Answer, error) {
	w, err := newWork(ctx, j, show)
	if err != nil {
		return nil, err
	}
	first := w.tanks[0]
	r := first.result("sheet", j.First().Anodes)
	r.Checks, r.Warnings = w.checks, w.warnings
	r.Bench = w.report()
	w.solved[0].fill(&r)
	r.Solver = nil
	a := &report.Answer{Result: r}
	if r.Missed() {
		return a, nil
	}
	show("drawing", len(w.stations), len(w.stations)+1)
	pages := paper.Sheet{Job: w.job, Stations: w.stations, Outline: first.outline(j.First().Anodes), Style: style}
	pdf, err := pages.PDF()
	if err != nil {
		return nil, fmt.Errorf("the pages of the sheet: %w", err)
	}
	a.Papers = []report.Paper{{Name: report.SheetFile, Data: pdf}}
	return a, nil
}

// work is a job with all of its stations solved.
type work struct {
	job      *job.Job // with the conductivity that was taken
	tanks    []*Tank
	solved   []*Solved
	stations []bench.Station
	checks   []report.Check
	warnings []string
}

// newWork holds the job against what is refused, solves its stations, and holds these against
// the limits.
func newWork(ctx context.Context, j *job.Job, show Progress) (*work, error) {
	if err := refused(j); err != nil {
		return nil, err
	}
	w := &work{job: j}
	stations := bench.Stations(j)
	for i, s := range stations {
		show("solving", i, len(stations)+1)
		if err := w.add(ctx, s); err != nil {
			return nil, err
		}
	}
	w.warnings = append(w.warnings, bench.Warnings(j)...)
	return w, nil
}

// refused returns what the job is refused for and what it does not say, as faults with
// their lines.
func refused(j *job.Job) error {
	var faults []job.Fault
	for _, r := range bench.Refusals(j) {
		faults = append(faults, job.Fault{Key: r.Key, Text: r.Text()})
	}
	for _, q := range bench.Questions(j) {
		faults = append(faults, job.Fault{Key: q.Key, Text: q.Text()})
	}
	return j.Blame(faults...)
}

// add solves a station and holds it against the limits.
func (w *work) add(ctx context.Context, s job.Station) error {
	t, err := w.tank(ctx, s)
	if err != nil {
		return err
	}
	if r := bench.WalkInto(w.job, t.Capacity); r != nil {
		return w.job.Blame(job.Fault{Key: r[0].Key, Text: r[0].Text()})
	}
	if err := t.Hangs(s); err != nil {
		return err
	}
	b, err := t.NewBasin(0)
	if err != nil {
		return err
	}
	if err := w.takeFirstReading(ctx, b, s); err != nil {
		return err
	}
	solved, liquid, err := b.withLamp(w.job).solveAtBench(ctx, s)
	if err != nil {
		return err
	}
	at := t.station(s, solved, liquid)
	w.tanks, w.solved, w.stations = append(w.tanks, t), append(w.solved, solved), append(w.stations, at)
	w.check(t, s, &at)
	w.warnings = append(w.warnings, t.Warnings...)
	w.warnings = append(w.warnings, solved.warnings()...)
	return nil
}

// tank returns the tank propped for a station.
func (w *work) tank(ctx context.Context, s job.Station) (*Tank, error) {
	if len(w.tanks) == 0 {
		return NewTank(ctx, w.job, s.Attitude)
	}
	t, err := w.tanks[0].Propped(ctx, s.Attitude)
	if err == nil {
		t.Job = w.job
	}
	return t, err
}

// check holds a station against the job's limits and those of gas.
func (w *work) check(t *Tank, s job.Station, at *bench.Station) {
	name := func(limit string) string {
		if at.Name == "" {
			return limit
		}
		return at.Name + ": " + limit
	}
	g := t.Gaps(s.Anodes)
	c := g.check(w.job.Search.Clearance)
	c.Name = name(c.Name)
	w.checks = append(w.checks, c)
	for _, l := range at.Limits(w.job) {
		w.checks = append(w.checks, report.Check{Name: name(l.Name), Value: l.Value, Limit: l.Most, Unit: l.Unit, Met: l.Met})
	}
}

// station returns what the bench needs to know of a solved station.
func (t *Tank) station(s job.Station, solved *Solved, liquid float64) bench.Station {
	at := bench.Station{
		Name: s.Name, Attitude: s.Attitude, Anodes: s.Anodes, Planned: s.Duration,
		Amps: solved.Current, Across: solved.Across, Liquid: liquid, Dead: t.Job.DeadVoltage(s.Anodes),
		Wetted: t.Filling.Wetted.Area(), Volume: t.LiquidVolume(s.Anodes), Height: t.Filling.Height,
		Headspace: math.Max(0, t.Whole()-t.VolumeBelow(t.Filling.Height)),
		Reached:   1 - solved.Even.Below(t.Job.Aim.Least),
	}
	for i := range s.Anodes {
		at.WayIn = append(at.WayIn, t.threading(&s.Anodes[i]))
	}
	for i := range solved.Rods {
		at.RodAmps = append(at.RodAmps, solved.Rods[i].Current)
	}
	for i := range t.Air.Pockets {
		at.Pockets = append(at.Pockets, t.Air.Walls[i].Volume)
	}
	at.Finish = solved.finish()
	return at
}
