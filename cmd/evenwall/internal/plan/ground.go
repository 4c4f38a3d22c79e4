package plan

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/search"
	"evenwall/field/station"
)

// ground is a tank in one attitude at one level: what is compared on the same ground is
// compared patch by patch, by one set of wall that counts.
type ground struct {
	fine, coarse *Basin
	patches      station.Patches // of the coarse basin; what counts is what any of the posed jobs reaches
	posed        []conditions    // whose reachable wall is in
	unreached    string          // why no single rod keeps the limits of any of them; "": one does
}

// sameAs reports whether a tank has the same wall, wetted alike and propped alike.
func (g *ground) sameAs(t *Tank) bool {
	mine := g.fine.Tank
	return mine.Turn == t.Turn && mine.Filling.Height == t.Filling.Height &&
		slices.Equal(mine.Wall.Mesh.Vertices, t.Wall.Mesh.Vertices) && slices.Equal(mine.Wall.Mesh.Faces, t.Wall.Mesh.Faces) &&
		slices.Equal(mine.Filling.Wetted.Mesh.Vertices, t.Filling.Wetted.Mesh.Vertices) && slices.Equal(mine.Filling.Wetted.Faces, t.Filling.Wetted.Faces)
}

func newGround(t *Tank) (*ground, error) {
	fine, err := t.NewBasin(0)
	if err != nil {
		return nil, err
	}
	coarse, err := t.NewBasin(t.judgeSpacing())
	if err != nil {
		return nil, err
	}
	return &ground{fine: fine, coarse: coarse}, nil
}

// as returns a basin as another job of the same tank has it.
func (b *Basin) as(t *Tank) *Basin { return &Basin{t, b.Laid, b.recovery} }

// pose adds the wall that a job's rods can reach to what counts.
func (g *ground) pose(ctx context.Context, t *Tank, s job.Station) error {
	c := conditionsOf(t.Job, s)
	if slices.Contains(g.posed, c) {
		return nil
	}
	g.posed = append(g.posed, c)
	h := g.coarse.as(t).hunt(s)
	if err := h.screen.build(ctx); err != nil {
		return h.blame(err)
	}
	problem := h.problem()
	found, err := search.Reachable(ctx, problem, h.settings())
	var none *search.NoWayError
	if errors.As(err, &none) {
		g.patches.Area, g.patches.Weight = problem.Area, problem.Weight
		if g.patches.Reachable == nil {
			g.unreached = none.Error()
		}
		return nil
	}
	if err != nil {
		return h.blame(err)
	}
	g.add(found)
	return nil
}

// add adds to the wall that counts.
func (g *ground) add(found station.Patches) {
	g.unreached = ""
	if g.patches.Reachable == nil {
		g.patches = found
		return
	}
	for i, yes := range found.Reachable {
		g.patches.Reachable[i] = g.patches.Reachable[i] || yes
	}
}

// conditions are what decides which wall a job's rods can reach in a given tank.
type conditions struct {
	conductivity float64 // S/m
	wall, rod    job.Law
	supply       job.Supply // without the box that its figures were read from
	clearance    float64    // m
	off          job.Tolerance
	rods         string // the drawer
}

func conditionsOf(j *job.Job, s job.Station) conditions {
	c := conditions{conductivity: j.Bath.Conductivity, wall: j.Wall, rod: s.Anodes[0].Law, supply: j.Supply,
		clearance: j.Search.Clearance, off: j.Search.Tolerance, rods: fmt.Sprint(j.Search.Rods)}
	c.supply.Box = nil
	return c
}
