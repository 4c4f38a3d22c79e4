package geometry

import "math"

// Placement is how a rod hangs other than meant: turned about the point where it is held,
// then slid along itself, shifted, and bent by its weight. The zero value is not one;
// see Nominal.
type Placement struct {
	Turn  Rotation
	Slide float64 // toward the clamp, m
	Shift Vec     // in the plane of the rim, m
	Droop Droop
}

// Nominal is the placement of a rod that hangs as meant.
func Nominal() Placement { return Placement{Turn: Identity()} }

// droopPieces is into how many straight pieces a drooping rod is divided.
const droopPieces = 24

// Moved returns the rod in another placement.
func (r *Rod) Moved(hold Hold, p Placement) Rod {
	out := *r
	path := r.Path
	if p.Droop.Stiffness > 0 {
		path = r.divided(droopPieces)
	}
	out.Path = make([]Vec, len(path))
	slide := p.Turn.Apply(hold.Along).Scale(p.Slide)
	for i, x := range path {
		x = x.Sub(hold.At)
		sag := Vec{}
		if x.Dot(hold.Along) < 0 {
			sag = p.Droop.At(x.Norm(), hold.S)
		}
		out.Path[i] = hold.At.Add(p.Turn.Apply(x)).Add(slide).Add(p.Shift).Add(sag)
	}
	return out
}

// divided returns the path with each of its legs cut into n.
func (r *Rod) divided(n int) []Vec {
	path := []Vec{r.Path[0]}
	for i := 1; i < len(r.Path); i++ {
		for k := 1; k <= n; k++ {
			path = append(path, r.Path[i-1].Lerp(r.Path[i], float64(k)/float64(n)))
		}
	}
	return path
}

// WorstGap is the least clearance that a rod may have within its play.
type WorstGap struct {
	Gap               // by a lower bound: no placement within the play has less
	Placement         // one that comes as near, or nearly
	Attained  float64 // clearance of that placement, m
}

// WorstClearance returns the least distance that the rod's bare metal may have from the
// facets in t within its play. Distance is a lower bound: each solid of the rod is taken by
// the convex hull of all its places. The hull is no larger than those places but where a
// bare stretch begins on the far side of the hold, by at most its distance from there times
// 1 − cos(tilt), and at bends. Signs are as in Gap.
func WorstClearance(r *Rod, t *Tree, hold Hold, p Play) WorstGap {
	return worstOf(r.solids(r.Bare, r.Radius, !r.Flat), r, t, hold, p)
}

// WorstOutside is WorstClearance for all of the rod, metal and sleeve, over a stretch.
func WorstOutside(r *Rod, t *Tree, over Span, hold Hold, p Play) WorstGap {
	return worstOf(r.outside(over), r, t, hold, p)
}

// touching is the distance below which a point counts as in a hull, m: its direction is rounding.
const touching = 1e-7

func worstOf(parts []solid, r *Rod, t *Tree, hold Hold, p Play) WorstGap {
	worst := WorstGap{Gap: noGap(), Placement: Nominal(), Attained: math.Inf(1)}
	var of *sweep
	var part *solid
	for i := range parts {
		w := sweepOf(&parts[i], r, hold, p)
		if g := w.gapTo(t, worst.Gap); g.Distance < worst.Distance {
			worst.Gap, of, part = g, w, &parts[i]
		}
	}
	if of == nil {
		return worst
	}
	worst.Placement = of.toward(worst.OnWall, part, hold, p)
	for _, s := range parts {
		moved := s.moved(r, hold, worst.Placement)
		worst.Attained = moved.gapTo(t, Gap{Distance: worst.Attained}).Distance
	}
	return worst
}

// moved returns a straight solid in another placement; it stays straight between its ends.
func (s *solid) moved(r *Rod, hold Hold, p Placement) solid {
	out := *s
	ends := Rod{Path: []Vec{s.from, s.to}}
	droop := p.Droop
	p.Droop = Droop{}
	ends = ends.Moved(hold, p)
	out.from, out.to = ends.Path[0], ends.Path[1]
	for i, x := range [2]Vec{s.from, s.to} {
		if x = x.Sub(hold.At); x.Dot(hold.Along) < 0 {
			sag := droop.At(x.Norm(), hold.S)
			if i == 0 {
				out.from = out.from.Add(sag)
			} else {
				out.to = out.to.Add(sag)
			}
		}
	}
	return out
}

// toward returns the placement within the play that brings the solid nearest to a point: the
// way that the hull of all places lies from it, or, where the point is in that hull, the way
// that the solid lies as it is meant to hang.
func (w *sweep) toward(x Vec, s *solid, hold Hold, p Play) Placement {
	onAxis, _, apart, _ := convexGap(w.thin(), pointSet(x), math.Inf(1))
	d := x.Sub(onAxis).Unit()
	if apart < touching {
		d = x.Sub(s.from.Lerp(s.to, ClosestOnSegment(x, s.from, s.to))).Unit()
	}
	if d == (Vec{}) {
		d, _ = hold.Along.Perpendicular()
	}
	out := Placement{Turn: Identity(), Droop: p.Droop}
	out.Shift = d.AddScaled(w.normal, -d.Dot(w.normal)).Unit().Scale(p.Position)
	best, most := &w.ends[0], math.Inf(-1)
	for i := range w.ends {
		if along := w.endSupport(&w.ends[i], d).Dot(d); along > most+1e-12 {
			best, most = &w.ends[i], along
		}
	}
	out.Slide = p.Depth
	if (best == &w.ends[1]) || (best == &w.ends[3]) {
		out.Slide = -p.Depth
	}
	from, to := best.at, turnedToward(best.at, d, w.tilt, w.sin, w.cos)
	if about := from.Cross(to); about.Norm() > 0 {
		out.Turn = RotationAbout(about, math.Atan2(about.Norm(), from.Dot(to)))
	}
	return out
}

// pointSet is a convex set of one point.
type pointSet Vec

func (p pointSet) support(Vec) Vec { return Vec(p) }

// gapTo returns the gap of the sweep to the facets in t if it is less than best's.
func (w *sweep) gapTo(t *Tree, best Gap) Gap {
	bound := best.Distance
	var facet Triangle
	t.nearSweep(w, &bound, func(k int32) {
		facet = t.triangle(k)
		if g := w.gap(&facet, bound); g.Distance < best.Distance {
			g.Face = t.faces[k]
			best, bound = g, g.Distance
		}
	})
	return best
}

// gap returns the gap of the sweep to a convex set if it is below limit, otherwise any
// that is not.
func (w *sweep) gap(c convex, limit float64) Gap {
	onRod, onWall, d, least := convexGap(w, c, math.Max(limit, convexSlack)) // a touch is looked at whatever the limit
	if d > 0 {
		if least < limit && d-least <= 1e-6 {
			least = d // as good as settled: the bound trails behind by rounding
		}
		return Gap{least, onRod, onWall, -1}
	}
	onAxis, onWall, d, _ := convexGap(w.thin(), c, math.Inf(1))
	onRod = onAxis.AddScaled(onWall.Sub(onAxis).Unit(), w.radius)
	return Gap{min(d-w.radius, 0), onRod, onWall, -1}
}

// nearSweep calls visit for every facet, by leaf order, that may be nearer to a sweep than
// *bound, which may be negative, nearest boxes first; visit lowers *bound as it finds.
func (t *Tree) nearSweep(w *sweep, bound *float64, visit func(k int32)) {
	var stack [treeDepth]pendingSegment
	if len(t.nodes) == 0 {
		return
	}
	var box Box
	least := func(node int32) float64 {
		box = t.nodes[node].box()
		if far := math.Sqrt(box.Dist2(w.pivot)) - w.reach(); far >= *bound {
			return far
		}
		_, _, _, l := convexGap(w, &box, max(*bound, 0))
		if l <= 0 {
			return -w.radius
		}
		return l
	}
	stack[0] = pendingSegment{0, -w.radius}
	for n := 1; n > 0; {
		n--
		at, node := stack[n], &t.nodes[stack[n].node]
		if at.least >= *bound {
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			visit(k)
		}
		if node.count > 0 {
			continue
		}
		near := pendingSegment{at.node + 1, least(at.node + 1)}
		far := pendingSegment{node.first, least(node.first)}
		if far.least < near.least {
			near, far = far, near
		}
		stack[n], stack[n+1] = far, near
		n += 2
	}
}

// reach returns how far from the pivot the sweep goes at most, m.
func (w *sweep) reach() float64 {
	far := 0.0
	for i := range w.ends {
		far = max(far, w.ends[i].at.Norm()+w.ends[i].sag.Norm())
	}
	return far + w.position + w.radius
}

// WorstRodGap returns a lower bound of the distance between the bare metal of two rods,
// each anywhere within its play. A negative one means that they may touch.
func WorstRodGap(a, b *Rod, holdA, holdB Hold, p Play) Gap {
	gap := noGap()
	for _, x := range a.solids(a.Bare, a.Radius, !a.Flat) {
		w := sweepOf(&x, a, holdA, p).thin()
		for _, y := range b.solids(b.Bare, b.Radius, !b.Flat) {
			v := sweepOf(&y, b, holdB, p).thin()
			onA, onB, _, axes := convexGap(w, v, math.Inf(1))
			if d := axes - x.radius - y.radius; d < gap.Distance {
				toward := onB.Sub(onA).Unit()
				gap = Gap{d, onA.AddScaled(toward, x.radius), onB.AddScaled(toward, -y.radius), -1}
			}
		}
	}
	return gap
}
