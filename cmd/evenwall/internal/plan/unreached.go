package plan

import (
	"context"
	"math"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
	"evenwall/render"
)

// Which pieces of wall that no layout reaches are named: so many at most of wetted and of dry
// wall, each at least so large as a part of all wall, and so large, m².
const (
	mostUnreached  = 4
	leastUnreached = 1e-3
	leastNamed     = 1e-4
)

// never is the wall that no layout reaches.
type never struct {
	wet, dry []piece
	patches  framed  // that dry's are of
	crumbs   float64 // in smaller pieces, m²
}

// neverReached finds the pieces of wall that no layout reaches: wetted wall that is not among the
// reachable patches, and dry wall; over several attitudes that which none wets.
func (h *hunt) neverReached(reachable []bool) never {
	n := never{patches: h.judged()}
	if h.wall != nil {
		n.wet = h.pieces(n.patches, func(i int) bool { return !reachable[i] && h.wall.Class(i) != 0 })
		n.dry = h.pieces(n.patches, func(i int) bool { return h.wall.Class(i) == 0 })
		return n.worthNaming(h.Wall.Area())
	}
	dry := h.dryWall()
	if h.Job.Bath.KeepsAir {
		appendWall(&dry, &h.Air.dry)
	}
	n.wet = h.pieces(n.patches, func(i int) bool { return !reachable[i] })
	n.patches = framed{field.NewPatches(field.SteelOf(h.Vessel, &dry), h.coarse.Recovery().Patches.H), h.Turn.Inverse()}
	for _, patches := range n.patches.Pieces(func(int) bool { return true }) {
		n.dry = append(n.dry, h.pieceOf(n.patches, patches))
	}
	return n.worthNaming(h.Wall.Area())
}

// worthNaming leaves out the pieces that are too small of so much wall, m², and counts them.
func (n never) worthNaming(area float64) never {
	bar := math.Max(leastNamed, leastUnreached*area)
	n.wet, n.dry = n.named(n.wet, bar), n.named(n.dry, bar)
	return n
}

// named returns the pieces that are named, of several the largest first, and counts the others.
func (n *never) named(all []piece, bar float64) []piece {
	k := 0
	for k < len(all) && k < mostUnreached && all[k].area >= bar {
		k++
	}
	for _, p := range all[k:] {
		n.crumbs += p.area
	}
	return all[:k]
}

// appendWall adds wall to other wall.
func appendWall(to, more *vessel.Wetted) {
	to.Mesh.Append(more.Mesh)
	to.Kind, to.Faces = append(to.Kind, more.Kind...), append(to.Faces, more.Faces...)
}

// nameUnreached names the wall that no layout reaches, and says what it would take.
func (h *hunt) nameUnreached(ctx context.Context, n *never, r *report.Result) error {
	r.CrumbsM2 = n.crumbs
	if len(n.wet) > 0 {
		w, err := h.newRescue(ctx)
		if err != nil {
			return err
		}
		wet := make([]report.Unreached, len(n.wet))
		if err := sideBySide(ctx, len(wet), func(i int) (err error) {
			wet[i] = h.unreachedAt(&n.wet[i], h.judged())
			wet[i].Takes, err = w.takes(ctx, &n.wet[i])
			return err
		}); err != nil {
			return err
		}
		r.Unreached = append(r.Unreached, wet...)
	}
	for i := range n.dry {
		u := h.unreachedAt(&n.dry[i], n.patches)
		u.Dry = true
		var err error
		if u.Takes, err = h.wetting(ctx, pointsOf(&n.dry[i], n.patches)); err != nil {
			return err
		}
		r.Unreached = append(r.Unreached, u)
	}
	return nil
}

// unreachedAt says where a piece of wall is.
func (h *hunt) unreachedAt(p *piece, patches framed) report.Unreached {
	from := h.drawnOpenings(h.start.Anodes)[0].Centre
	u := report.Unreached{AreaM2: p.area, Side: p.side, Place: render.Whereabout(h.sides(), from, p.at), PointMM: point(p.at), HeightMM: [2]float64{1000 * p.low, 1000 * p.high}}
	u.Behind = h.behind(pointsOf(p, patches))
	for i := range h.Openings {
		if o := &h.Openings[i]; p.at.Dist(o.Centre) < o.Diameter && u.Behind == "" {
			u.Round = o.Name
		}
	}
	return u
}

// wallPoint is a point in the liquid just off a patch of wall, with the patch's area, m².
type wallPoint struct {
	geometry.Vec
	area float64
}

// offWall is how far a wallPoint is off its patch, m.
const offWall = 1e-3

// pointsOf returns a point for each patch of a piece.
func pointsOf(p *piece, patches framed) []wallPoint {
	back := patches.back
	out := make([]wallPoint, len(p.patches))
	for k, i := range p.patches {
		q := &patches.All[i]
		out[k] = wallPoint{back.Apply(q.Centre.AddScaled(q.Normal, -offWall)), q.Area}
	}
	return out
}

// behind names what stands between most of a piece of wall and every opening that a rod can hang
// in: an inner sheet, or a corner of the wall; "" when most of it is in sight.
func (h *hunt) behind(points []wallPoint) string {
	ways := h.problem().Space.Ways()
	area, hidden := 0.0, map[int]float64{}
	for _, p := range points {
		area += p.area
		if sheet, ok := h.hides(ways, p.Vec); ok {
			hidden[sheet] += p.area
		}
	}
	sum, most, largest := 0.0, 0.0, 0
	for sheet := -1; sheet < len(h.Baffles); sheet++ {
		sum += hidden[sheet]
		if hidden[sheet] > most {
			most, largest = hidden[sheet], sheet
		}
	}
	switch {
	case sum <= area/2:
		return ""
	case largest < 0:
		return "a corner of the wall"
	}
	return h.sheetName(largest)
}

// hides returns the sheet, -1 for the shell, that hides a point from the openings, when it is in
// sight of none.
func (h *hunt) hides(ways []int, p geometry.Vec) (sheet int, hidden bool) {
	for _, i := range ways {
		o := &h.Openings[i]
		eye := o.Centre.AddScaled(o.Axis.Unit(), -offWall)
		_, _, face, d := h.Steel().SegmentWithin(p, eye, offWall/2)
		switch {
		case face < 0 || d > offWall/10:
			return 0, false
		case int(face) < len(h.Wall.Sheet):
			sheet = int(h.Wall.Sheet[face])
		default:
			sheet = -1 // a rim
		}
	}
	return sheet, len(ways) > 0
}
