package plan

import (
	"context"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/render"
)

// clearance returns the gaps of rods as result.json has them.
func (t *Tank) clearance(g *Gaps, anodes []job.Anode) *report.Clearance {
	return &report.Clearance{
		MinMM: 1000 * g.Wet.Distance, RimMM: 1000 * g.All.Distance, WorstMM: 1000 * g.Worst(),
		Anode: g.Wet.Rod, AnodeMM: point(g.Wet.OnRod), WallMM: point(g.Wet.OnWall), Worst: t.worst(g, anodes),
	}
}

// check holds the clearance against the job's limit, m.
func (g *Gaps) check(limit float64) report.Check {
	return report.Check{
		Name: "least clearance", Value: 1000 * g.Worst(), Limit: 1000 * limit, Unit: "mm", Met: g.Worst() >= limit-2*rimError,
	}
}

// insertionCheck holds an anode against its opening: how far it is from steel on its way in.
func insertionCheck(e *report.Insertion, of int) report.Check {
	c := report.Check{Name: "room on the way in", Value: e.SpareMM, Limit: 0, Unit: "mm", Met: e.In}
	if of > 1 {
		c.Name = e.Anode + ": room on the way in"
	}
	return c
}

// Clearance says how near the rods of the job's first station come to steel, and holds
// it against the job's limit.
func Clearance(ctx context.Context, j *job.Job, show Progress) (*report.Answer, error) {
	show("reading the tank", 0, 4)
	s := j.First()
	t, err := NewTank(ctx, j, s.Attitude)
	if err != nil {
		return nil, err
	}
	show("measuring gaps", 1, 4)
	if err := t.Hangs(s); err != nil {
		return nil, err
	}
	g := t.Gaps(s.Anodes)
	r := t.result("clearance", s.Anodes)
	r.Clearance, r.Checks = t.clearance(&g, s.Anodes), []report.Check{g.check(j.Search.Clearance)}
	r.Clearance.Gaps, r.Clearance.ByHand = t.oneByOne(s.Anodes), t.byHand(s.Anodes, &g)
	show("getting it in", 2, 4)
	for i := range s.Anodes {
		e := t.insertion(&s.Anodes[i])
		r.Clearance.Insertions = append(r.Clearance.Insertions, e)
		r.Checks = append(r.Checks, insertionCheck(&e, len(s.Anodes)))
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	show("drawing", 3, 4)
	picture, err := t.clearancePicture(s.Anodes, &g)
	return &report.Answer{Result: r, Pictures: []report.Picture{picture}}, err
}

// clearancePicture draws the tightest gap, and the rod where it comes nearest when the hand
// is off.
func (t *Tank) clearancePicture(anodes []job.Anode, g *Gaps) (report.Picture, error) {
	gap := func(n Near) render.Gap {
		return render.Gap{Rod: n.Rod, OnRod: n.OnRod, OnWall: n.OnWall, Distance: n.Distance}
	}
	limit := t.Job.Search.Clearance
	scene := render.ClearanceScene{
		Scene: t.Scene(anodes), Gap: gap(g.Wet), Rim: gap(g.All), Worst: math.NaN(),
		Limit: limit, Held: "as planned", Met: g.check(limit).Met,
	}
	scene.Notes.NoField = true
	if t.worst(g, anodes) != nil {
		scene.Worst, scene.Held = g.Worst(), "at its worst within the tolerance"
		scene.Off = t.moved(g, anodes)
	}
	image, err := render.Clearance(scene, render.Settings{})
	return report.Picture{Name: "clearance.png", Image: image}, err
}

// leastDrawn is the droop below which a rod is drawn straight, m.
const leastDrawn = 0.001

// moved returns the rod of the worst case where it comes nearest; none when it does so as
// it is meant to hang.
func (t *Tank) moved(g *Gaps, anodes []job.Anode) []geometry.Rod {
	for i := range anodes {
		if a := &anodes[i]; a.Name == g.Off.Rod && !t.playOf(a).IsZero() {
			p := g.Off.Placement
			if g.Off.Droop < leastDrawn {
				p.Droop = geometry.Droop{}
			}
			return []geometry.Rod{a.Moved(t.holdOf(a), p)}
		}
	}
	return nil
}
