package plan

import (
	"cmp"
	"context"
	"math"
	"slices"

	"evenwall/geometry"
)

// probed is what probes reach of a piece of wall.
type probed struct {
	share  float64 // of it by any
	places []probedAt
}

// probedAt is a place from which some of a piece is reached; the one that reaches the most comes first.
type probedAt struct {
	at    geometry.Vec
	share float64
}

// reaching returns the places that reach enough.
func (p *probed) reaching() []geometry.Vec {
	var out []geometry.Vec
	for _, q := range p.places {
		if q.share >= leastRescue {
			out = append(out, q.at)
		}
	}
	return out
}

// probe tries short rods at the places nearest to a piece of wall, those that keep so far from
// steel, m.
func (w *rescue) probe(ctx context.Context, p *piece, places []geometry.Vec, clearance float64) (probed, error) {
	var out probed
	any := make([]bool, len(w.judged().All))
	for _, at := range w.nearest(p, places) {
		rod, gap := w.probeRod(at)
		if gap < clearance {
			continue
		}
		reached, err := w.reachedFrom(ctx, rod)
		if err != nil {
			return probed{}, err
		}
		if share := w.shareOf(p, reached); share > 0 {
			out.places = append(out.places, probedAt{at, share})
		}
		for i, yes := range reached {
			any[i] = any[i] || yes
		}
	}
	slices.SortStableFunc(out.places, func(a, b probedAt) int { return cmp.Compare(b.share, a.share) })
	out.share = w.shareOf(p, any)
	return out, nil
}

// nearest returns places near a piece of wall that are spread along it: the first the one nearest
// to an opening that rods hang in, each further one as far from all before as there is.
func (w *rescue) nearest(p *piece, places []geometry.Vec) []geometry.Vec {
	points := pointsOf(p, w.judged())
	step := max(1, len(points)/64)
	far, to, least := make([]float64, len(places)), make([]geometry.Vec, len(places)), math.Inf(1)
	for k, at := range places {
		far[k] = math.Inf(1)
		for i := 0; i < len(points); i += step {
			if d := at.Dist(points[i].Vec); d < far[k] {
				far[k], to[k] = d, points[i].Vec
			}
		}
		if far[k] < least && w.sees(at, to[k]) {
			least = far[k]
		}
	}
	var near, out []geometry.Vec
	for k, at := range places {
		if far[k] <= least+probesApart && w.sees(at, to[k]) {
			near = append(near, at)
		}
	}
	apart := make([]float64, len(near)) // negative: from the openings, as long as none is chosen
	for k, at := range near {
		apart[k] = -w.fromOpening(at)
	}
	for len(out) < min(probes, len(near)) {
		best := 0
		for k := range near {
			if apart[k] > apart[best] {
				best = k
			}
		}
		if len(out) > 0 && apart[best] < probesApart {
			break
		}
		out = append(out, near[best])
		for k, at := range near {
			if d := at.Dist(near[best]); len(out) == 1 || d < apart[k] {
				apart[k] = d
			}
		}
	}
	return out
}

// sees reports whether no steel stands between two points in the liquid.
func (w *rescue) sees(a, b geometry.Vec) bool {
	_, _, face, d := w.Steel().SegmentWithin(a, b, offWall/2)
	return face < 0 || d > offWall/10
}

// fromOpening returns how far a place is from the nearest opening that rods hang in, m.
func (w *rescue) fromOpening(at geometry.Vec) float64 {
	least := math.Inf(1)
	for _, i := range w.space.Ways() {
		least = math.Min(least, at.Dist(w.Openings[i].Centre))
	}
	return least
}

// probeRod returns a short rod, all bare, about a place: plumb, or along another axis where it
// keeps farther from steel, with how far it keeps, m.
func (w *rescue) probeRod(at geometry.Vec) (geometry.Rod, float64) {
	best, most := geometry.Rod{}, math.Inf(-1)
	for _, d := range [3]geometry.Vec{w.Up, {X: 1}, {Y: 1}} {
		half := d.Scale(probeLength / 2)
		r := geometry.Rod{Name: "probe", Path: geometry.Straight(at.Sub(half), at.Add(half)), Radius: slices.Min(w.space.Radii), Bare: []geometry.Span{{To: probeLength}}}
		if gap := geometry.BareClearance(&r, w.Steel(), nil).Distance; gap > most+1e-6 {
			best, most = r, gap
		}
	}
	return best, most
}

// reachedFrom returns the patches that a rod brings the aim's least at the most current that the
// supply and its metal allow.
func (w *rescue) reachedFrom(ctx context.Context, r geometry.Rod) ([]bool, error) {
	e, err := w.evaluator().Evaluate(ctx, []geometry.Rod{r})
	if err != nil {
		return nil, err
	}
	most := e.Most(mostOnAnode)
	out := make([]bool, len(e.Rate))
	for i, j := range e.Rate {
		out[i] = j*most >= w.Job.Aim.Least
	}
	return out, nil
}

// leastRoom is what metal keeps from steel at least when the clearance is given up, m; roomStep the
// step in which a place is moved to where there is more.
const (
	leastRoom = 1e-3
	roomStep  = 1e-3
)

// roomier moves a place away from the nearest steel as long as that makes its distance greater, half
// a cell at most, and returns the distance, m: as far as the clearance, where it has that.
func (w *rescue) roomier(at geometry.Vec) (geometry.Vec, float64) {
	need := w.space.Clearance + slices.Min(w.space.Radii)
	foot, _, d := w.Steel().ClosestWithin(at, need)
	for moved := 0.0; d < need && moved < w.coarse.Laid.Liquid.Lattice.H/2; moved += roomStep {
		next := at.AddScaled(at.Sub(foot).Unit(), roomStep)
		f, _, e := w.Steel().ClosestWithin(next, need)
		if e <= d {
			break
		}
		at, foot, d = next, f, e
	}
	return at, d
}
