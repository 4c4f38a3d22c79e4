package plan

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field"
	"evenwall/field/search"
	"evenwall/field/station"
	"evenwall/geometry"
)

// lie is the tank in one attitude.
type lie struct{ fine, coarse *Basin }

// ground is a tank in one attitude, or in several that it is turned to, at one level: what is compared on the same ground is
// compared patch by patch, by one set of wall that counts.
type ground struct {
	fine, coarse *Basin // in the first attitude
	lies         []lie
	wall         *commonWall     // that is judged; nil with one attitude: the coarse basin's
	fineWall     *commonWall     // that the figures are of; nil with one attitude: the fine basin's
	patches      station.Patches // of the coarse basin; what counts is what any of the posed jobs reaches
	posed        []conditions    // whose reachable wall is in
	unreached    string          // why no single rod keeps the limits of any of them; "": one does
}

// sameAs reports whether a tank in its attitudes has the same wall, wetted alike and propped alike.
func (g *ground) sameAs(tanks []*Tank) bool {
	if len(tanks) != len(g.lies) {
		return false
	}
	for k, t := range tanks {
		if !g.lies[k].fine.alike(t) {
			return false
		}
	}
	return true
}

// alike reports whether two tanks have the same wall, wetted alike and propped alike.
func (t *Tank) alike(other *Tank) bool {
	return t.Turn == other.Turn && t.Filling.Height == other.Filling.Height &&
		slices.Equal(t.Wall.Mesh.Vertices, other.Wall.Mesh.Vertices) && slices.Equal(t.Wall.Mesh.Faces, other.Wall.Mesh.Faces) &&
		slices.Equal(t.Filling.Wetted.Mesh.Vertices, other.Filling.Wetted.Mesh.Vertices) && slices.Equal(t.Filling.Wetted.Faces, other.Filling.Wetted.Faces)
}

func newGround(tanks []*Tank) (*ground, error) {
	g := &ground{}
	for _, t := range tanks {
		fine, err := t.NewBasin(0)
		if err != nil {
			return nil, err
		}
		coarse, err := t.NewBasin(tanks[0].judgeSpacing())
		if err != nil {
			return nil, err
		}
		g.lies = append(g.lies, lie{fine, coarse})
	}
	g.fine, g.coarse = g.lies[0].fine, g.lies[0].coarse
	if len(tanks) > 1 {
		g.wall = newCommonWall(tanks, g.coarse.Recovery().Patches.H)
		g.fineWall = newCommonWall(tanks, g.fine.Recovery().Patches.H)
	}
	return g, nil
}

// at returns which of the ground's attitudes that is.
func (g *ground) at(tanks []*Tank, a job.Attitude) int {
	return max(0, slices.IndexFunc(tanks, func(t *Tank) bool { return t.Turn == a.Rotation() }))
}

// hunt returns a search in attitude k as a job of the tank has it.
func (g *ground) hunt(k int, t *Tank, s job.Station) *hunt {
	h := g.lies[k].coarse.as(t).hunt(s)
	if g.wall != nil {
		h.wall, h.attitude, h.way = g.wall, k, g.wall.from(h.coarse, k)
	}
	return h
}

// figured returns the wall that a layout's figures are of.
func (g *ground) figured() framed {
	if g.fineWall == nil {
		return g.fine.framed()
	}
	return framed{g.fineWall.Patches, geometry.Identity()}
}

// wetted returns the patches that are wetted in any of the attitudes, with a figure for each.
func (g *ground) wetted(all []field.Patch, figures []float64) ([]field.Patch, []float64) {
	if g.fineWall == nil {
		return all, figures
	}
	var patches []field.Patch
	var out []float64
	for i := range all {
		if g.fineWall.Class(i) != 0 {
			patches, out = append(patches, all[i]), append(out, figures[i])
		}
	}
	return patches, out
}

// wet returns the area of it that is wetted in any of the attitudes, m².
func (g *ground) wet() float64 {
	if g.fineWall == nil {
		return g.fine.Filling.Wetted.Area()
	}
	return g.fineWall.areaWhere(func(i int) bool { return g.fineWall.Class(i) != 0 })
}

// as returns a basin as another job of the same tank has it.
func (b *Basin) as(t *Tank) *Basin { return &Basin{t, b.Laid, b.recovery} }

// pose adds the wall that a job's rods can reach, in any attitude, to what counts.
func (g *ground) pose(ctx context.Context, tanks []*Tank, s job.Station) error {
	c := conditionsOf(tanks[0].Job, s)
	if slices.Contains(g.posed, c) {
		return nil
	}
	g.posed = append(g.posed, c)
	for k, t := range tanks {
		if err := g.poseIn(ctx, g.hunt(k, t, s)); err != nil {
			return err
		}
	}
	return nil
}

func (g *ground) poseIn(ctx context.Context, h *hunt) error {
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
