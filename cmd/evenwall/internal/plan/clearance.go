package plan

import (
	"context"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/render"
)

// Near is a gap with the rod that it is measured from.
type Near struct {
	geometry.Gap
	Rod string
}

// Gaps are how near the bare metal of rods comes to steel, as they are said to hang.
type Gaps struct {
	Wet Near // metal under the liquid to wetted wall or baffle
	All Near // all bare metal to all steel, dry wall and rim included
}

// Worst returns the lesser of the two, m: no tolerance is taken yet.
func (g *Gaps) Worst() float64 { return math.Min(g.Wet.Distance, g.All.Distance) }

// Gaps returns the gaps of rods that hang in the tank. Each must have bare metal under the
// liquid.
func (t *Tank) Gaps(anodes []job.Anode) Gaps {
	far := Near{Gap: geometry.Gap{Distance: math.Inf(1), Face: -1}}
	g := Gaps{far, far}
	for i := range anodes {
		r := &anodes[i].Rod
		g.Wet = nearer(g.Wet, geometry.BareClearance(r, t.Wetted, &t.Filling.Surface), r)
		g.All = nearer(g.All, geometry.BareClearance(r, t.Steel, nil), r)
	}
	return g
}

func nearer(best Near, g geometry.Gap, r *geometry.Rod) Near {
	if g.Distance < best.Distance {
		return Near{g, r.Name}
	}
	return best
}

// result returns the clearance as result.json has it.
func (g *Gaps) result() *report.Clearance {
	return &report.Clearance{
		MinMM: 1000 * g.Wet.Distance, RimMM: 1000 * g.All.Distance, WorstMM: 1000 * g.Worst(),
		Anode: g.Wet.Rod, AnodeMM: point(g.Wet.OnRod), WallMM: point(g.Wet.OnWall),
	}
}

// check holds the clearance against the job's limit, m.
func (g *Gaps) check(limit float64) report.Check {
	return report.Check{
		Name: "least clearance", Value: 1000 * g.Worst(), Limit: 1000 * limit, Unit: "mm", Met: g.Worst() >= limit-2*rimError,
	}
}

// Clearance says how near the rods of the job's first station come to steel, and holds
// it against the job's limit.
func Clearance(ctx context.Context, j *job.Job, show Progress) (*report.Answer, error) {
	show("reading the tank", 0, 3)
	s := j.First()
	t, err := NewTank(ctx, j, s.Attitude)
	if err != nil {
		return nil, err
	}
	show("measuring gaps", 1, 3)
	if err := t.Hangs(s); err != nil {
		return nil, err
	}
	g := t.Gaps(s.Anodes)
	r := t.result("clearance", s.Anodes)
	r.Clearance, r.Checks = g.result(), []report.Check{g.check(j.Search.Clearance)}
	show("drawing", 2, 3)
	picture, err := t.clearancePicture(s.Anodes, &g)
	return &report.Answer{Result: r, Pictures: []report.Picture{picture}}, err
}

// clearancePicture draws the tightest gap.
func (t *Tank) clearancePicture(anodes []job.Anode, g *Gaps) (report.Picture, error) {
	gap := func(n Near) render.Gap {
		return render.Gap{Rod: n.Rod, OnRod: n.OnRod, OnWall: n.OnWall, Distance: n.Distance}
	}
	limit := t.Job.Search.Clearance
	image, err := render.Clearance(render.ClearanceScene{
		Scene: t.Scene(anodes), Gap: gap(g.Wet), Rim: gap(g.All), Worst: math.NaN(),
		Limit: limit, Held: "least of both, nominal", Met: g.check(limit).Met,
	}, render.Settings{})
	return report.Picture{Name: "clearance.png", Image: image}, err
}
