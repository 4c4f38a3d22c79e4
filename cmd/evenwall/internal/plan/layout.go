package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/search"
	"evenwall/field/station"
	"evenwall/geometry"
)

// Layout finds where to hang the rod and says what the wall gets from it then.
func Layout(ctx context.Context, j *job.Job, show Progress) (*report.Answer, error) {
	show("reading the tank", 0, 0)
	start := j.First()
	if all := j.Search.Attitudes; len(all) > 1 || len(all) == 1 && all[0] != start.Attitude {
		return layoutTour(ctx, j, show)
	}
	t, err := NewTank(ctx, j, start.Attitude)
	if err != nil {
		return nil, err
	}
	h, err := t.newHunt(start)
	if err != nil {
		return nil, err
	}
	show("a table of layouts", 0, 0)
	if err := h.screen.build(ctx); err != nil {
		return nil, h.blame(err)
	}
	p := h.problem()
	if p.Spare, err = h.spared(h.coarse, sparedMargin); err != nil {
		return nil, err
	}
	settings := h.settings()
	settings.Progress = func(stage search.Stage, step, steps int) { show(stage.String(), step, steps) }
	found, err := search.Search(ctx, p, settings)
	if err != nil {
		var none *search.NoWayError
		if errors.As(err, &none) {
			return h.nothing(none), nil
		}
		return nil, h.blame(err)
	}
	show("solving the best closely", 0, 0)
	return h.answer(ctx, found)
}

// hunt is a search for a layout in one tank.
type hunt struct {
	*Tank
	start  job.Station // what the job hangs, to begin from
	coarse *Basin
	law    job.Law // of the rods' metal
	screen *screen

	wall     *commonWall // that layouts are judged on; nil: the coarse basin's
	attitude int         // of the wall's
	way      *onWall     // from the coarse basin to it
}

func (t *Tank) newHunt(start job.Station) (*hunt, error) {
	b, err := t.NewBasin(t.judgeSpacing())
	if err != nil {
		return nil, err
	}
	return b.hunt(start), nil
}

// hunt returns a search whose layouts are judged in the basin.
func (b *Basin) hunt(start job.Station) *hunt {
	h := &hunt{Tank: b.Tank, start: start, coarse: b}
	if len(start.Anodes) > 0 {
		h.law = start.Anodes[0].Law
	}
	h.screen = &screen{direct: &direct{b, h.law}, fine: sync.OnceValues(func() (*Basin, error) { return b.NewBasin(0) })}
	return h
}

// settings returns how far the search goes.
func (h *hunt) settings() search.Settings {
	s := h.screen.effort()
	j := &h.Job.Search
	s.Count, s.Stations, s.AnodeLimit, s.Robust = j.Count, j.Stations, mostOnAnode, j.Robust
	return s
}

// blame names the job file unless the error is the end of the context.
func (h *hunt) blame(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return h.Job.Blame(job.Fault{Key: "search", Text: err.Error()})
}

// droopMargin is what a dry rod of the drawer may droop besides, m: a steel rod of 8 mm that
// leans out half a metre droops half as much.
const droopMargin = 5e-4

// problem poses the search. The job's own rods are a start when they can hang at all.
func (h *hunt) problem() *search.Problem {
	p := &search.Problem{Evaluator: h.evaluator(), Area: h.areas(), Weight: h.weights(), Aim: aimOf(h.Job.Aim),
		Space: search.Space{Openings: h.Openings, Steel: h.Steel(), Surface: h.Filling.Surface, Stretches: h.Job.Search.Stretches, Clearance: h.Job.Search.Clearance,
			Bent: h.Job.Search.Bent, BendRadius: h.Job.Search.BendRadius, Flexible: h.Job.Search.Flexible, LeastBend: h.Job.Search.LeastBend}}
	if off := h.Job.Search.Tolerance; !off.IsZero() {
		p.Space.Off = geometry.Play{Position: off.Position, Tilt: off.Tilt, Depth: off.Depth}
		p.Space.Clearance += droopMargin
	}
	for _, d := range h.Job.Search.Rods {
		p.Space.Radii = append(p.Space.Radii, d/2)
	}
	if len(h.start.Anodes) > 0 && h.Hangs(h.start) == nil {
		p.Start = [][]geometry.Rod{rodsOf(h.start.Anodes)}
	}
	return p
}

func rodsOf(anodes []job.Anode) []geometry.Rod {
	rods := make([]geometry.Rod, len(anodes))
	for i := range anodes {
		rods[i] = anodes[i].Rod
	}
	return rods
}

// anodes returns a candidate's rods as the job file has them.
func (h *hunt) anodes(c *search.Candidate) []job.Anode {
	out := make([]job.Anode, len(c.Rods))
	for i, r := range c.Rods {
		out[i] = job.Anode{Rod: r, Law: h.law}
		if out[i].Name == "" {
			out[i].Name = fmt.Sprintf("rod %d", i+1)
		}
		switch {
		case c.Places != nil:
			p := &c.Places[i]
			out[i].Through = h.Openings[p.Opening].Name
			switch {
			case p.Flexible:
				out[i].Slack = search.LeastBendOf(h.Job.Search.LeastBend, p.Radius)
			case p.Bend > 0:
				out[i].Bend = job.Bend{Corner: p.Corner, Radius: p.Bend}
			}
		case i < len(h.start.Anodes):
			from := &h.start.Anodes[i]
			out[i].Through = from.Through
			if slices.Equal(r.Path, from.Path) {
				out[i].Bend, out[i].Slack = from.Bend, from.Slack
			}
		}
	}
	return out
}

// answer solves the positions found and the naive one on the fine lattice and judges them.
func (h *hunt) answer(ctx context.Context, found *search.Result) (*report.Answer, error) {
	fine, err := h.screen.fine()
	if err != nil {
		return nil, err
	}
	if err := h.verify(ctx, found, fine); err != nil {
		return nil, err
	}
	u, err := h.gather(ctx, found, fine)
	if err != nil {
		return nil, err
	}
	a, c := u.answer, u.close
	a.Result.Search = &report.Search{Tried: found.Tally.Tried, Refused: found.Tally.Tried - found.Tally.Fit(),
		ReachableM2: found.Patches.ReachableArea(), Bent: triedAs(h.Job.Search.Bent, &found.Tally.Bent),
		Flexible: triedAs(h.Job.Search.Flexible, &found.Tally.Lying), Naive: u.naive}
	a.Result.CrumbsM2, a.Result.Unreached = u.unreached.CrumbsM2, u.unreached.Unreached
	shown := []shownLayout{{name: "this layout", densities: c.onto, seconds: c.seconds()}}
	if found.Naive != nil {
		shown = append(shown, shownLayout{name: "plumb rod instead", densities: [][]float64{u.naiveOnto}})
	}
	a.Result.Laws = h.byLaws(found.Patches, append(shown, h.alternatives(found, a.Result.Search)...))
	for _, s := range c.stations {
		gaps := h.Gaps(s.Anodes)
		check := gaps.check(h.Job.Search.Clearance)
		if len(c.stations) > 1 {
			check.Name += ", " + s.Name
		}
		a.Result.Checks = append(a.Result.Checks, check)
	}
	h.finish(a, c, &found.Tally)
	if err := c.addChargeMap(a); err != nil {
		return nil, err
	}
	if a.Result.Spared, err = h.sparedIn(c); err != nil {
		return nil, err
	}
	for _, s := range a.Result.Spared {
		a.Result.Checks = append(a.Result.Checks, s.Checks()...)
	}
	return a, nil
}

// evidence is a layout with what is shown beside it.
type evidence struct {
	answer    *report.Answer
	close     *closeUp
	naive     *report.Judged // nil: none was looked at
	naiveOnto []float64      // what the judged patches get from it, A/m²
	unreached report.Result  // the wall that no layout reaches, and nothing else
}

// gather solves the layout found closely and tries what may be off, and beside that solves the
// naive one and names the wall that no layout reaches.
func (h *hunt) gather(ctx context.Context, found *search.Result, fine *Basin) (*evidence, error) {
	u, never := &evidence{}, h.neverReached(found.Patches.Reachable)
	strands := []func() error{
		func() (err error) {
			if u.close, err = h.closely(ctx, found, fine); err != nil {
				return err
			}
			u.close.solved[0].never = h.paintOf(&never)
			if u.answer, err = h.currentAnswer("layout", u.close.solved[0]); err != nil {
				return err
			}
			u.answer.Result.OffMeant, err = h.offMeant(ctx, found.Patches, u.close)
			return err
		},
		func() error { return h.nameUnreached(ctx, &never, &u.unreached) },
		func() (err error) {
			if found.Naive != nil {
				u.naive, u.naiveOnto, err = h.naive(ctx, found, fine)
			}
			return err
		},
	}
	err := sideBySide(ctx, len(strands), func(i int) error { return strands[i]() })
	return u, err
}

// closeUp is the positions that a search found, solved closely and timed.
type closeUp struct {
	stations []job.Station
	solved   []*Solved
	onto     [][]float64 // what the coarse patches get by the close solution, A/m²
	schedule *station.Schedule
}

// names are what stations are called.
var names = [...]string{"first", "second", "third", "fourth", "fifth", "sixth"}

// closely solves the positions on the fine lattice, finds their times anew and leaves out
// those that get none. Several must save their price over the best single one here too.
func (h *hunt) closely(ctx context.Context, found *search.Result, fine *Basin) (*closeUp, error) {
	single, err := h.positions(ctx, found, []search.Candidate{found.Best}, fine)
	if err != nil || len(found.Stations) < 2 {
		return single, err
	}
	several, err := h.positions(ctx, found, found.Stations, fine)
	if err != nil {
		return nil, err
	}
	if !search.Worth(aimOf(h.Job.Aim), several.schedule, single.schedule, search.Price) {
		return single, nil
	}
	return several, nil
}

// positions is closely for given ones.
func (h *hunt) positions(ctx context.Context, found *search.Result, positions []search.Candidate, fine *Basin) (*closeUp, error) {
	var c closeUp
	var rates [][]float64
	for i := range positions {
		if err := c.add(ctx, h, &positions[i], fine); err != nil {
			return nil, err
		}
		rates = append(rates, station.Threshold.Rates(aimOf(h.Job.Aim), c.onto[i]))
	}
	var err error
	if c.schedule, err = station.Plan(found.Patches, aimOf(h.Job.Aim), rates); err != nil {
		return nil, h.blame(err)
	}
	c.keepWorked()
	return &c, nil
}

// add solves a position on the fine lattice.
func (c *closeUp) add(ctx context.Context, h *hunt, p *search.Candidate, fine *Basin) error {
	anodes := h.anodes(p)
	solved, err := fine.Solve(ctx, anodes)
	if err != nil {
		return err
	}
	c.solved = append(c.solved, solved)
	c.stations = append(c.stations, job.Station{Attitude: h.start.Attitude, Anodes: anodes})
	c.onto = append(c.onto, h.onto(solved, p.Exposure.Rate))
	return nil
}

// keepWorked drops the positions that the schedule gives no time, and names the others.
func (c *closeUp) keepWorked() {
	kept := 0
	for i, seconds := range c.schedule.Seconds {
		if seconds > 0 || len(c.stations) == 1 {
			c.stations[i].Duration = math.Round(seconds*1e6) / 1e6
			c.stations[i].Name = names[kept]
			c.stations[kept], c.solved[kept], c.onto[kept] = c.stations[i], c.solved[i], c.onto[i]
			kept++
		}
	}
	c.stations, c.solved, c.onto = c.stations[:kept], c.solved[:kept], c.onto[:kept]
}

// charge returns what flows in the times of the positions, A h.
func (c *closeUp) charge() *float64 {
	sum := 0.0
	for i, s := range c.solved {
		sum += s.Current * c.stations[i].Duration / 3600
	}
	return &sum
}

// seconds are the times of the positions kept.
func (c *closeUp) seconds() []float64 {
	out := make([]float64, len(c.stations))
	for i := range c.stations {
		out[i] = c.stations[i].Duration
	}
	return out
}

// naive judges the rod that anyone would hang, and returns what the coarse patches get from it.
func (h *hunt) naive(ctx context.Context, found *search.Result, fine *Basin) (*report.Judged, []float64, error) {
	anodes := h.anodes(found.Naive)
	solved, err := fine.Solve(ctx, anodes)
	if err != nil {
		return nil, nil, err
	}
	e := solved.exposure(h.onto(solved, found.Naive.Exposure.Rate))
	out := h.judgedAs(search.Judge(found.Patches, aimOf(h.Job.Aim), &e), anodes)
	out.ReachFraction = solved.wall().ReachFraction
	return out, e.Rate, nil
}

// judgedAs is a verdict on rods as result.json has it.
func (h *hunt) judgedAs(v search.Verdict, anodes []job.Anode) *report.Judged {
	gaps := h.Gaps(anodes)
	out := &report.Judged{Reached: report.Reached{One: v.After[0], Three: v.After[1], Ten: v.After[2]}, ClearanceMM: 1000 * gaps.Worst()}
	out.Hours = hoursOf(v.Finish)
	if h.Job.Aim.Within > 0 {
		out.InTime = &v.InTime
	}
	if charge := v.Charge / 3600; charge > 0 {
		out.ChargeAH = &charge
	}
	return out
}

const day = 24 * 3600.0 // s

// finish adds the hours and the job file of the layout found.
func (h *hunt) finish(a *report.Answer, c *closeUp, tally *search.Tally) {
	r := &a.Result
	after := c.schedule.ReachedAfter(1*day, 3*day, 10*day)
	r.Reached = &report.Reached{One: after[0], Three: after[1], Ten: after[2]}
	for _, s := range c.stations {
		r.Stations = append(r.Stations, report.Station{Name: s.Name, Hours: s.Duration / 3600})
	}
	if words := h.noneLies(tally); words != "" {
		r.Warnings = append(r.Warnings, words)
	}
	r.Search.Fewer = fewerWords(tally, h.Job.Search.Count, c.stations)
	r.Weights = weightWords(h.Job.Aim.Weights)
	within := h.Job.Aim.Within
	if within > 0 {
		r.Within = &report.Within{Hours: within / 3600, Reached: c.schedule.ReachedAfter(within)[0]}
	}
	r.Hours = hoursOf(c.schedule.Finish)
	if h.Job.Aim.LeastCharge && r.Hours != nil {
		r.ChargeAH = c.charge()
	}
	if r.Hours == nil && within == 0 {
		r.Warnings = append(r.Warnings, h.unreached(c))
	}
	found := *h.Job
	found.Anodes, found.Stations, found.Unreached = nil, c.stations, nil
	for i := range r.Unreached {
		found.Unreached = append(found.Unreached, r.Unreached[i].Note())
	}
	a.Layout = &found
}

// unreached says what the aim's share lacks.
func (h *hunt) unreached(c *closeUp) string {
	total := c.schedule.Total()
	share := c.schedule.ReachedAfter(total)[0]
	what := "this one position never brings"
	if len(c.stations) > 1 {
		what = "these positions never bring"
	}
	return fmt.Sprintf("%s %.0f %% of the wall that can be reached its charge: some of it gets less than %g A/m2; the hours are for %.0f %% of it: allow more positions in turn (search.stations) or more rods at once (search.count)",
		what, 100*h.Job.Aim.Share, h.Job.Aim.Least, 100*share)
}

// nothing is the answer when no layout keeps the limits: a check that is not met.
func (h *hunt) nothing(err *search.NoWayError) *report.Answer {
	r := h.result("layout", nil)
	r.Search = &report.Search{Tried: err.Tally.Tried, Refused: err.Tally.Tried, Bent: triedAs(h.Job.Search.Bent, &err.Tally.Bent),
		Flexible: triedAs(h.Job.Search.Flexible, &err.Tally.Lying)}
	r.Warnings = append(r.Warnings, err.Error())
	r.Checks = []report.Check{{Name: "layouts that keep the limits", Limit: 1}}
	return &report.Answer{Result: r}
}
