package search

import (
	"math"

	"evenwall/geometry"
)

// attempts is how many places are looked at for each one that is to be evaluated.
const attempts = 200

// reach evaluates rods all over the space, every second one bare as far as the clearance
// allows and every other near its tip only, and marks the patches that any of them can
// work. The places do not depend on the seed.
func (r *run) reach() error {
	r.enter(Reaching, r.Reach)
	found := r.spread(newSpray(0), r.Reach, nil, func(n int, p Place, _ []float64) Place {
		p.Radius = r.space.Radii[len(r.space.Radii)-1-n/2%len(r.space.Radii)]
		p.Bare = geometry.Span{To: math.Inf(1)}
		if n%2 == 1 {
			p.Bare.To = shortBare
		}
		return p
	})
	bent := append(r.spreadBent(0, r.Reach/bentShare), r.spreadFlexible(0, r.Reach/bentShare)...)
	if len(found)+len(bent) == 0 {
		return r.noWay()
	}
	if err := r.evaluate(found); err != nil {
		return err
	}
	r.patches.Reachable = make([]bool, len(r.Area))
	copy(r.patches.Reachable, r.Counts)
	for _, rec := range found {
		r.reaches(rec, func(patch int) { r.patches.Reachable[patch] = true })
	}
	if err := r.reachBent(bent); err != nil {
		return err
	}
	r.judge(append(found, bent...))
	return nil
}

// reaches visits the patches that a layout works at the most current that it may take.
func (r *run) reaches(rec *record, visit func(patch int)) {
	by := rec.exposure.Most(r.AnodeLimit)
	for i, j := range rec.exposure.Rate {
		if j*by >= r.Aim.Least {
			visit(i)
		}
	}
}

// shortBare is the bare stretch of the rods that reach farthest, m.
const shortBare = 0.080

func (r *run) noWay() error { return &NoWayError{r.tally, r.nearest, r.nearAt, r.excess} }

// scatter evaluates places with all manner of bare stretches.
func (r *run) scatter() error {
	r.enter(Scattering, r.Scatter)
	found := r.spread(newSpray(r.Seed+1), r.Scatter, nil, r.anyRod)
	_, _, err := r.try(found, r.Scatter)
	return err
}

// anyRod sets thickness and bare stretch of a scattered place from three coordinates.
func (r *run) anyRod(_ int, p Place, x []float64) Place {
	p.Radius = r.space.Radii[int(x[0]*float64(len(r.space.Radii)))]
	p.Bare = someBare(x[1], x[2], r.space.Depth(p))
	return p
}

// someBare maps two numbers from 0 to 1 to a bare stretch: a third go as far as possible,
// half of the others begin at the tip.
func someBare(x, y, depth float64) geometry.Span {
	if x < 1.0/3 {
		return geometry.Span{To: math.Inf(1)}
	}
	from := max(0, 3*x-2) * 0.7 * depth
	return geometry.Span{From: from, To: from + (0.15+0.85*y)*(depth-from)}
}

// spread returns up to n layouts of a base and one place more that fit, drawn by tip, evenly over the space under the
// liquid, and by opening. finish sets thickness and bare stretch from three more
// coordinates.
func (r *run) spread(s *spray, n int, base layout, finish func(n int, p Place, x []float64) Place) []*record {
	ways := r.space.Ways()
	box := r.space.under()
	var found []*record
	seen := map[key]bool{}
	for k := 0; k < attempts*n && len(found) < n; k++ {
		x := s.next()
		p := Place{Opening: ways[k%len(ways)]}
		size := box.Size()
		p.Tip = box.Min.Add(geometry.V(x[0]*size.X, x[1]*size.Y, x[2]*size.Z))
		radius := r.space.Openings[p.Opening].Diameter / 2 * math.Sqrt(x[3])
		sin, cos := math.Sincos(2 * math.Pi * x[4])
		p.U, p.V = radius*cos, radius*sin
		rec := r.fit(append(append(layout(nil), base...), finish(len(found), p, x[5:])))
		if rec == nil || seen[keyOf(rec.places)] {
			continue
		}
		seen[keyOf(rec.places)] = true
		found = append(found, rec)
	}
	return found
}

// under returns a box around all steel below the surface.
func (s *Space) under() geometry.Box {
	box := s.Steel.Bounds()
	n := s.Surface.Normal
	for axis := range 3 { // exact when the plumb line is along an axis; otherwise a box that holds more
		if c := n.Axis(axis); math.Abs(c) > 1-1e-9 {
			at := s.Surface.Offset / c
			if c > 0 {
				box.Max = box.Max.WithAxis(axis, min(box.Max.Axis(axis), at))
			} else {
				box.Min = box.Min.WithAxis(axis, max(box.Min.Axis(axis), at))
			}
		}
	}
	return box
}

// spray is a sequence of points that fill the unit cube evenly, however many are taken:
// multiples of powers of a generalised golden ratio. Roberts (2018), from memory.
type spray struct {
	at, step []float64
}

// How many coordinates a place takes.
const (
	sprayDimensions     = 8
	bentSprayDimensions = sprayDimensions + 3
)

func newSpray(seed uint64) *spray { return newSprayOf(seed, sprayDimensions) }

func newSprayOf(seed uint64, dimensions int) *spray {
	ratio := 2.0
	for range 60 { // the root of x^(d+1) = x + 1
		ratio = math.Pow(1+ratio, 1.0/float64(dimensions+1))
	}
	s := &spray{make([]float64, dimensions), make([]float64, dimensions)}
	for i := range s.step {
		s.step[i] = frac(math.Pow(ratio, -float64(i+1)))
		s.at[i] = frac(0.5 + float64(seed%1000003)*math.Sqrt(float64(2*i+3)))
	}
	return s
}

func (s *spray) next() []float64 {
	for i := range s.at {
		s.at[i] = frac(s.at[i] + s.step[i])
	}
	return append([]float64(nil), s.at...)
}

func frac(x float64) float64 { return x - math.Floor(x) }
