package passage

import (
	"container/heap"
	"math"

	"evenwall/geometry"
)

// How a way is looked for: steps of the hand, and how closely they are checked.
const (
	along     = 4                 // mm of one step out
	tilt      = 2 * math.Pi / 180 // of one step about an axis in the rim's plane, rad
	spin      = 8 * math.Pi / 180 // of one step about the rod, rad
	aside     = 0.002             // of one step in the rim's plane, m
	mostTilt  = 35                // steps either way
	apart     = 0.001             // between checked poses no point moves farther, m
	leeway    = 0.0005            // from steel at each of them, m: half of apart, so that between them it is clear too
	outside   = -6                // mm below the rim that count as out
	patience  = 1000              // poses looked at before the search gives up, unless the way says
	worthward = 0.004             // distance to steel beyond which more is no better, m
)

// place is a pose in steps: s in mm below the rim, u and v, a and b about them, c about itself.
type place struct{ s, u, v, a, b, c int16 }

// thread is the search for a way of a rigid rod.
type thread struct {
	way     *Way
	bundles []bundle            // of each part, in its place
	u, v    geometry.Vec        // in the plane of the rim
	frame   []geometry.Rotation // by mm below the rim from outside: turns the rod there into its final direction
	reach   float64             // of the rod from the rim, m
	margin  float64             // that every pose keeps, m
	bent    bool
	seen    map[place]bool
}

func newThread(w *Way, parts []part) *thread {
	t := &thread{way: w, seen: map[place]bool{}, bent: !straightBelow(w), reach: w.Rod.Length()}
	t.u, t.v = w.Hold.Normal.Perpendicular()
	for _, p := range parts {
		t.bundles = append(t.bundles, bundlesOf(piecesOf(w.Rod, p))...)
	}
	t.frames()
	return t
}

// direction returns the rod's own direction about s, evened over its bends.
func (t *thread) direction(s float64) geometry.Vec {
	const over = 0.006 // m
	a, _ := t.way.Rod.At(s - over)
	b, _ := t.way.Rod.At(s + over)
	return b.Sub(a).Unit()
}

// frames carries the rod's direction at the rim back to its final one without spin, millimetre
// by millimetre.
func (t *thread) frames() {
	n := t.depth() - outside + 1
	t.frame = make([]geometry.Rotation, n)
	turn := geometry.Identity()
	last := t.direction(t.at(t.depth()))
	for mm := t.depth(); mm >= outside; mm-- {
		d := t.direction(t.at(mm))
		if about := d.Cross(last); about.Norm() > 1e-12 {
			turn = turn.After(geometry.RotationAbout(about, math.Atan2(about.Norm(), d.Dot(last))))
		}
		t.frame[mm-outside], last = turn, d
	}
}

// depth is the final depth in whole mm, counted so that the last one is exact.
func (t *thread) depth() int { return int(math.Ceil(1000 * t.way.Hold.S)) }

// at returns the length of rod below the rim at a depth in mm.
func (t *thread) at(mm int) float64 { return t.way.Hold.S - float64(t.depth()-mm)/1000 }

// pose returns the motion of the rod from its place to a pose between places: numbers need
// not be whole but for the depth.
func (t *thread) pose(p [6]float64) (turn geometry.Rotation, from, to geometry.Vec) {
	mm := int(math.Round(p[0]))
	hold := &t.way.Hold
	from, _ = t.way.Rod.At(t.at(mm))
	turn = t.frame[mm-outside]
	if p[5] != 0 {
		turn = geometry.RotationAbout(hold.Along, p[5]*spin).After(turn)
	}
	if lean := t.u.Scale(p[3]*tilt).AddScaled(t.v, p[4]*tilt); lean.Norm() > 0 {
		turn = geometry.RotationAbout(lean, lean.Norm()).After(turn)
	}
	to = hold.At.AddScaled(t.u, p[1]*aside).AddScaled(t.v, p[2]*aside)
	return turn, from, to
}

func (p place) numbers() [6]float64 {
	return [6]float64{float64(p.s), float64(p.u), float64(p.v), float64(p.a), float64(p.b), float64(p.c)}
}

// gap returns the least distance to steel in a pose if it is below limit, m; of one below floor
// any piece's.
func (t *thread) gap(p [6]float64, limit, floor float64) geometry.Gap {
	least := geometry.Gap{Distance: limit, Face: -1}
	move := t.motion(p)
	for i := range t.bundles {
		if g := t.bundles[i].gap(t.way.Steel, move, least.Distance); g.Distance < least.Distance {
			least = g
		}
		if least.Distance < floor {
			break
		}
	}
	return least
}

// motion takes points of the rod from its place to a pose.
func (t *thread) motion(p [6]float64) func(geometry.Vec) geometry.Vec {
	turn, from, to := t.pose(p)
	return func(x geometry.Vec) geometry.Vec { return to.Add(turn.Apply(x.Sub(from))) }
}

// lookAhead is how far from steel a piece is looked at on its way, m: it may go as far as it is
// from steel before the next look.
const lookAhead = 0.012

// free reports whether the way between two poses is clear, both ends included, and a pose that
// is not.
func (t *thread) free(a, b [6]float64) (ok bool, at [6]float64) {
	slide, turned := t.travels(a, b)
	from, _ := t.way.Rod.At(t.at(int(math.Round(a[0]))))
	for i := range t.bundles {
		one := &t.bundles[i]
		arm := math.Max(one.cover.Path[0].Dist(from), one.cover.Path[1].Dist(from)) + slide
		travel := slide + turned*arm
		for f := 0.0; ; {
			p := mix(a, b, f)
			d := one.gap(t.way.Steel, t.motion(p), lookAhead).Distance
			if d < t.margin {
				return false, p
			}
			if f == 1 {
				break
			}
			f = math.Min(1, f+math.Max(apart, d+t.margin)/math.Max(travel, apart))
		}
	}
	return true, b
}

func mix(a, b [6]float64, f float64) (p [6]float64) {
	for i := range p {
		p[i] = a[i] + (b[i]-a[i])*f
	}
	return p
}

// travel returns how far any point of the rod moves at most between two poses, m.
func (t *thread) travel(a, b [6]float64) float64 {
	slide, turned := t.travels(a, b)
	return slide + turned*t.reach
}

// travels returns how far the rod slides and shifts, m, and turns, rad, at most between two poses.
func (t *thread) travels(a, b [6]float64) (slide, turned float64) {
	d := func(i int) float64 { return math.Abs(a[i] - b[i]) }
	turned = (d(3)+d(4))*tilt + d(5)*spin
	for mm := int(math.Min(a[0], b[0])); t.bent && mm < int(math.Max(a[0], b[0])); mm++ {
		x, y := t.direction(t.at(mm)), t.direction(t.at(mm+1))
		turned += math.Atan2(x.Cross(y).Norm(), x.Dot(y))
	}
	return d(0)/1000 + math.Hypot(d(1), d(2))*aside, turned
}

// search looks for a way, nearest to the outside first: it returns the nodes that were looked at
// up to the one outside, or nil and what stops the rod.
func (t *thread) search() ([]node, Stop) {
	start := place{s: int16(t.depth())}
	t.margin = math.Min(leeway, 0.4*t.gap(start.numbers(), 0.01, 0).Distance)
	stop := Stop{Left: t.way.Hold.S, Gap: t.gap(start.numbers(), 1, math.Inf(-1))}
	if t.margin <= 0 {
		return nil, stop
	}
	q := &queue{{at: start, parent: -1}}
	var popped []node
	lowest, since := int16(math.MaxInt16), 0
	most := t.way.Patience
	if most == 0 {
		most = patience
	}
	for q.Len() > 0 && len(popped) < most {
		n := heap.Pop(q).(node)
		if n.parent >= 0 {
			if ok, at := t.free(popped[n.parent].at.numbers(), n.at.numbers()); !ok {
				if n.at.s < lowest {
					stop.Gap = t.gap(at, 1, math.Inf(-1))
				}
				continue
			}
		}
		popped = append(popped, n)
		if since++; t.way.Stall > 0 && since > t.way.Stall {
			break
		}
		if n.at.s < lowest {
			lowest, since = n.at.s, 0
			stop.Left, stop.Gap = t.at(int(lowest)), t.stopAt(n.at)
		}
		if n.at.s <= outside {
			return popped, Stop{}
		}
		t.expand(q, n, len(popped)-1)
	}
	return nil, stop
}

// stopAt returns the gap one step farther out.
func (t *thread) stopAt(p place) geometry.Gap {
	p.s = int16(max(int(p.s)-along, outside))
	return t.gap(p.numbers(), 1, math.Inf(-1))
}

// expand offers the steps from a pose that keep the margin at their end.
func (t *thread) expand(q *queue, from node, parent int) {
	for _, step := range t.steps() {
		p := from.at
		p.s, p.u, p.v = p.s+step.s, p.u+step.u, p.v+step.v
		p.a, p.b, p.c = p.a+step.a, p.b+step.b, p.c+step.c
		p.s = max(p.s, outside)
		if t.seen[p] || int(p.s) > t.depth() || !t.allowed(p) {
			continue
		}
		t.seen[p] = true
		g := t.gap(p.numbers(), worthward, t.margin).Distance
		if g < t.margin {
			continue
		}
		moves := from.moves + 1
		heap.Push(q, node{at: p, parent: parent, moves: moves, cost: float64(p.s) - 1000*g + 0.3*float64(moves)})
	}
}

func (t *thread) allowed(p place) bool {
	off := math.Hypot(float64(p.u), float64(p.v)) * aside
	return off <= 2*t.way.Rim && math.Hypot(float64(p.a), float64(p.b)) <= mostTilt
}

// steps lists the single steps of the hand.
func (t *thread) steps() []place {
	out := []place{{s: -along},
		{s: -along, a: 1}, {s: -along, a: -1}, {s: -along, b: 1}, {s: -along, b: -1},
		{a: 1}, {a: -1}, {b: 1}, {b: -1}, {u: 1}, {u: -1}, {v: 1}, {v: -1}}
	if t.bent {
		out = append(out, place{c: 1}, place{c: -1}, place{s: -along, c: 1}, place{s: -along, c: -1})
	}
	return out
}

// node is a pose that waits to be looked at.
type node struct {
	at     place
	parent int // among those popped
	moves  int
	cost   float64
}

// queue is a heap of nodes, the least cost first.
type queue []node

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, k int) bool { return q[i].cost < q[k].cost }
func (q queue) Swap(i, k int)      { q[i], q[k] = q[k], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(node)) }
func (q *queue) Pop() any {
	old := *q
	n := old[len(old)-1]
	*q = old[:len(old)-1]
	return n
}

// result follows the way back, from outside to the place, and leaves out the poses between
// which the straight way is clear too.
func (t *thread) result(popped []node) Result {
	var way [][6]float64
	for i := len(popped) - 1; i >= 0; i = popped[i].parent {
		way = append(way, popped[i].at.numbers())
	}
	kept := [][6]float64{way[0]}
	for i := 0; i < len(way)-1; {
		next := i + 1
		for jump := len(way) - 1 - i; jump > 1; jump /= 2 {
			if ok, _ := t.free(way[i], way[i+jump]); ok {
				next = i + jump
				break
			}
		}
		kept = append(kept, way[next])
		i = next
	}
	kept = t.fewer(kept)
	r := Result{In: true, Spare: math.Inf(1)}
	for i, p := range kept {
		r.Poses = append(r.Poses, t.words(p))
		if i > 0 {
			r.Spare = math.Min(r.Spare, t.spare(kept[i-1], p))
		}
	}
	return r
}

// fewer leaves out poses, as long as the way between those beside them is clear.
func (t *thread) fewer(way [][6]float64) [][6]float64 {
	for i := 1; i+1 < len(way); {
		if ok, _ := t.free(way[i-1], way[i+1]); ok {
			way = append(way[:i:i], way[i+1:]...)
		} else {
			i++
		}
	}
	return way
}

// spare returns the least distance to steel between two poses, m, where it was looked at.
func (t *thread) spare(a, b [6]float64) float64 {
	least, n := 0.05, int(math.Ceil(t.travel(a, b)/apart))
	for k := range n + 1 {
		least = math.Min(least, t.gap(mix(a, b, float64(k)/math.Max(1, float64(n))), least, 0).Distance)
	}
	return least
}

// words returns a pose by what a hand can set.
func (t *thread) words(p [6]float64) Pose {
	turn, _, _ := t.pose(p)
	return Pose{
		Turn:  turn,
		S:     t.at(int(p[0])),
		Shift: t.u.Scale(p[1]*aside).AddScaled(t.v, p[2]*aside),
		Lean:  t.u.Scale(p[3]*tilt).AddScaled(t.v, p[4]*tilt),
		Spin:  p[5] * spin,
	}
}
