package plan

import (
	"context"
	"errors"
	"fmt"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/search"
	"evenwall/geometry"
)

// Layout finds where to hang the rod and says what the wall gets from it then.
func Layout(ctx context.Context, j *job.Job, show Progress) (*report.Answer, error) {
	show("reading the tank", 0, 0)
	start := j.First()
	t, err := NewTank(ctx, j, start.Attitude)
	if err != nil {
		return nil, err
	}
	h, err := t.newHunt(start)
	if err != nil {
		return nil, err
	}
	found, err := search.Search(ctx, h.problem(), search.Settings{Count: j.Search.Count, AnodeLimit: mostOnAnode,
		Progress: func(stage search.Stage, step, steps int) { show(stage.String(), step, steps) }})
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
}

func (t *Tank) newHunt(start job.Station) (*hunt, error) {
	b, err := t.NewBasin(judgeSpacing)
	if err != nil {
		return nil, err
	}
	h := &hunt{Tank: t, start: start, coarse: b}
	if len(start.Anodes) > 0 {
		h.law = start.Anodes[0].Law
	}
	return h, nil
}

// blame names the job file unless the error is the end of the context.
func (h *hunt) blame(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return h.Job.Blame(job.Fault{Key: "search", Text: err.Error()})
}

// problem poses the search. The job's own rods are a start when they can hang at all.
func (h *hunt) problem() *search.Problem {
	p := &search.Problem{Evaluator: &direct{h.coarse, h.law}, Area: h.coarse.areas(), Aim: aimOf(h.Job.Aim),
		Space: search.Space{Openings: h.Openings, Steel: h.Steel, Surface: h.Filling.Surface, Clearance: h.Job.Search.Clearance}}
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
		if c.Places != nil {
			out[i].Through = h.Openings[c.Places[i].Opening].Name
		} else if i < len(h.start.Anodes) {
			out[i].Through = h.start.Anodes[i].Through
		}
	}
	return out
}

// answer solves the best layout and the naive one on the fine lattice and judges both.
func (h *hunt) answer(ctx context.Context, found *search.Result) (*report.Answer, error) {
	fine, err := h.NewBasin(0)
	if err != nil {
		return nil, err
	}
	anodes := h.anodes(&found.Best)
	solved, err := fine.Solve(ctx, anodes)
	if err != nil {
		return nil, err
	}
	a, err := h.currentAnswer("layout", solved)
	if err != nil {
		return nil, err
	}
	best := h.judge(found, solved, &found.Best)
	a.Result.Search = &report.Search{Tried: found.Tally.Tried, Refused: found.Tally.Tried - found.Tally.Fit(),
		ReachableM2: found.Patches.ReachableArea()}
	if found.Naive != nil {
		if a.Result.Search.Naive, err = h.naive(ctx, found, fine); err != nil {
			return nil, err
		}
	}
	gaps := h.Gaps(anodes)
	a.Result.Checks = append(a.Result.Checks, gaps.check(h.Job.Search.Clearance))
	h.finish(a, best, anodes)
	return a, nil
}

// judge holds a solved layout against the aim on the search's patches.
func (h *hunt) judge(found *search.Result, solved *Solved, c *search.Candidate) search.Verdict {
	e := solved.exposure(solved.onto(h.coarse, c.Exposure.Rate))
	return search.Judge(found.Patches, aimOf(h.Job.Aim), &e)
}

// naive judges the rod that anyone would hang.
func (h *hunt) naive(ctx context.Context, found *search.Result, fine *Basin) (*report.Judged, error) {
	anodes := h.anodes(found.Naive)
	solved, err := fine.Solve(ctx, anodes)
	if err != nil {
		return nil, err
	}
	v, gaps := h.judge(found, solved, found.Naive), h.Gaps(anodes)
	out := &report.Judged{Reached: reachedOf(v), ReachFraction: solved.wall().ReachFraction, ClearanceMM: 1000 * gaps.Worst()}
	if hours, ever := v.Finish.Hours(); ever {
		out.Hours = &hours
	}
	return out, nil
}

func reachedOf(v search.Verdict) report.Reached {
	return report.Reached{One: v.After[0], Three: v.After[1], Ten: v.After[2]}
}

// finish adds the hours and the job file of the layout found.
func (h *hunt) finish(a *report.Answer, v search.Verdict, anodes []job.Anode) {
	r := &a.Result
	reached := reachedOf(v)
	r.Reached = &reached
	s := job.Station{Name: "first", Attitude: h.start.Attitude, Anodes: anodes}
	if hours, ever := v.Finish.Hours(); ever {
		r.Hours, s.Duration = &hours, v.Finish.Seconds
		r.Stations = []report.Station{{Name: s.Name, Hours: hours}}
	} else {
		r.Warnings = append(r.Warnings, fmt.Sprintf(
			"this one position never brings %.0f %% of the wall that can be reached its charge: some of it gets less than %g A/m2; move the rod in turn, or hang two",
			100*h.Job.Aim.Share, h.Job.Aim.Least))
	}
	found := *h.Job
	found.Anodes, found.Stations = nil, []job.Station{s}
	a.Layout = &found
}

// nothing is the answer when no layout keeps the limits: a check that is not met.
func (h *hunt) nothing(err *search.NoWayError) *report.Answer {
	r := h.result("layout", nil)
	r.Search = &report.Search{Tried: err.Tally.Tried, Refused: err.Tally.Tried}
	r.Warnings = append(r.Warnings, err.Error())
	r.Checks = []report.Check{{Name: "least clearance", Limit: 1000 * h.Job.Search.Clearance, Unit: "mm"}}
	return &report.Answer{Result: r}
}
