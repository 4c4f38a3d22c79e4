package geometry

import "math"

// PushedClearance returns how near bare metal comes to the facets in t when the rod is
// pushed off its place, any way within its play, until one of its spacers touches: a
// search, which starts from pushes all round and refines the worst of them. It is the gap
// that the spacers leave, where they touch before the rod does.
func PushedClearance(r *Rod, t *Tree, hold Hold, p Play) WorstGap {
	s := pushSearch{rod: r, tree: t, hold: hold, play: p}
	s.bare = r.solids(r.Bare, r.Radius, !r.Flat)
	for _, disc := range r.Spacers {
		half := disc.Thick / 2
		for _, piece := range r.Pieces(max(0, disc.At-half), disc.At+half) {
			s.discs = append(s.discs, solid{from: piece[0], to: piece[1], radius: disc.Radius, flat: true})
		}
	}
	s.u, s.v = hold.Normal.Perpendicular()
	s.worst = WorstGap{Gap: noGap(), Placement: Nominal(), Attained: math.Inf(1)}
	s.try(push{})
	const round = 12
	best := push{}
	for i := range round {
		for k := range round {
			for _, slide := range [3]float64{-1, 0, 1} {
				c := push{angleOf(i, round), 1, angleOf(k, round), 1, slide}
				if c = s.held(c); s.try(c) {
					best = c
				}
			}
		}
	}
	s.refine(best)
	return s.worst
}

func angleOf(i, round int) float64 { return 2 * math.Pi * float64(i) / float64(round) }

// push is a placement within the play: shift and lean by their ways, rad, and shares.
type push struct {
	way, shift float64 // shift a share of the position, 0 to 1
	fall, lean float64 // lean a share of the tilt, 0 to 1
	slide      float64 // share of the depth, −1 to 1
}

// pushSearch is PushedClearance at work.
type pushSearch struct {
	rod         *Rod
	tree        *Tree
	hold        Hold
	play        Play
	bare, discs []solid
	u, v        Vec // in the plane of the rim
	worst       WorstGap
}

func (s *pushSearch) placement(c push) Placement {
	way := func(angle float64) Vec {
		sin, cos := math.Sincos(angle)
		return s.u.Scale(cos).AddScaled(s.v, sin)
	}
	return Placement{
		Turn:  RotationAbout(way(c.fall), c.lean*s.play.Tilt),
		Slide: c.slide * s.play.Depth,
		Shift: way(c.way).Scale(c.shift * s.play.Position),
		Droop: s.play.Droop,
	}
}

// clear reports whether no spacer cuts steel.
func (s *pushSearch) clear(p Placement) bool {
	for i := range s.discs {
		moved := s.discs[i].moved(s.rod, s.hold, p)
		if g := moved.gapTo(s.tree, Gap{Distance: 1e-9}); g.Distance < 0 {
			return false
		}
	}
	return true
}

// held returns how far of a push can be made before a spacer touches: of the shift alone,
// or of all of it where the lean alone is too much.
func (s *pushSearch) held(c push) push {
	if s.clear(s.placement(c)) {
		return c
	}
	part := func(f float64) push { return push{c.way, f * c.shift, c.fall, c.lean, c.slide} }
	if !s.clear(s.placement(part(0))) {
		part = func(f float64) push { return push{c.way, f * c.shift, c.fall, f * c.lean, f * c.slide} }
	}
	low, high := 0.0, 1.0
	for range 12 {
		if middle := (low + high) / 2; s.clear(s.placement(part(middle))) {
			low = middle
		} else {
			high = middle
		}
	}
	return part(low)
}

// try takes a push if no spacer cuts steel there and metal comes nearer than before.
func (s *pushSearch) try(c push) bool {
	p := s.placement(c)
	gap := Gap{Distance: s.worst.Distance}
	for i := range s.bare {
		moved := s.bare[i].moved(s.rod, s.hold, p)
		gap = moved.gapTo(s.tree, gap)
	}
	if gap.Distance >= s.worst.Distance || !s.clear(p) {
		return false
	}
	s.worst = WorstGap{Gap: gap, Placement: p, Attained: gap.Distance}
	return true
}

// refine moves one share at a time, by halving steps, as long as metal comes nearer.
func (s *pushSearch) refine(c push) {
	for step := 0.25; step > 0.004; step /= 2 {
		for better := true; better; {
			better = false
			for _, d := range [10]push{
				{way: step}, {way: -step}, {shift: step}, {shift: -step}, {fall: step}, {fall: -step},
				{lean: step}, {lean: -step}, {slide: step}, {slide: -step},
			} {
				next := s.held(push{c.way + d.way, share(c.shift+d.shift, 0), c.fall + d.fall, share(c.lean+d.lean, 0), share(c.slide+d.slide, -1)})
				if s.try(next) {
					c, better = next, true
				}
			}
		}
	}
}

func share(x, low float64) float64 { return min(max(x, low), 1) }

// HeldClearance is WorstClearance of a rod whose spacers may hold it: what they leave, where that is
// more. Without spacers both are the same.
func HeldClearance(r *Rod, t *Tree, hold Hold, p Play) WorstGap {
	worst := WorstClearance(r, t, hold, p)
	if len(r.Spacers) == 0 || p.IsZero() {
		return worst
	}
	if pushed := PushedClearance(r, t, hold, p); pushed.Distance > worst.Distance {
		return pushed
	}
	return worst
}
