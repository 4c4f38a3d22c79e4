package geometry

import "math"

// convex is a closed convex set, known by its farthest points.
type convex interface {
	// support returns a point of the set farthest along d, which is not zero.
	support(d Vec) Vec
}

func (t *Triangle) support(d Vec) Vec {
	best, most := t.A, t.A.Dot(d)
	if along := t.B.Dot(d); along > most {
		best, most = t.B, along
	}
	if t.C.Dot(d) > most {
		best = t.C
	}
	return best
}

func (b *Box) support(d Vec) Vec {
	p := b.Min
	if d.X > 0 {
		p.X = b.Max.X
	}
	if d.Y > 0 {
		p.Y = b.Max.Y
	}
	if d.Z > 0 {
		p.Z = b.Max.Z
	}
	return p
}

// simplex is up to four points of the difference of two convex sets with the points of
// the sets that they come from. The weights give its point nearest to the origin.
type simplex struct {
	w, a, b [4]Vec
	weight  [4]float64
	n       int
}

const (
	convexSteps = 120
	convexSlack = 1e-9 // m, of a distance
)

// convexGap returns the nearest points of two convex sets and two distances, the one
// between those points and a lower bound of the true one: 0 when the sets share a point.
// It stops early, with whatever points it has, once the lower bound is limit or more.
// Gilbert, Johnson and Keerthi (1988).
func convexGap(a, b convex, limit float64) (onA, onB Vec, dist, least float64) {
	var s simplex
	first := Vec{1, 0, 0}
	s.push(a.support(first), b.support(first.Scale(-1)))
	for range convexSteps {
		v := s.nearest()
		dist = v.Norm()
		if dist < convexSlack {
			onA, onB = s.feet()
			return onA, onB, 0, 0
		}
		d := v.Scale(-1 / dist)
		p, q := a.support(d), b.support(d.Scale(-1))
		if bound := -p.Sub(q).Dot(d); bound > least {
			least = bound
		}
		if least >= limit || dist-least <= convexSlack || s.holds(p.Sub(q)) {
			break
		}
		s.push(p, q)
	}
	onA, onB = s.feet()
	return onA, onB, dist, least
}

func (s *simplex) push(a, b Vec) {
	s.a[s.n], s.b[s.n], s.w[s.n] = a, b, a.Sub(b)
	s.n++
}

func (s *simplex) holds(w Vec) bool {
	for i := range s.n {
		if s.w[i] == w {
			return true
		}
	}
	return false
}

// feet returns the points of the two sets that the weights stand for.
func (s *simplex) feet() (onA, onB Vec) {
	for i := range s.n {
		onA, onB = onA.AddScaled(s.a[i], s.weight[i]), onB.AddScaled(s.b[i], s.weight[i])
	}
	return onA, onB
}

// nearest returns the point of the simplex nearest to the origin, sets the weights and
// drops the points that have none.
func (s *simplex) nearest() Vec {
	switch s.n {
	case 1:
		s.weight[0] = 1
	case 2:
		t := ClosestOnSegment(Vec{}, s.w[0], s.w[1])
		s.weight = [4]float64{1 - t, t}
	case 3:
		s.weight = originOnFacet(s.w, [3]int{0, 1, 2})
	default:
		s.weight = s.originInFour()
	}
	var v Vec
	kept := 0
	for i := range s.n {
		if s.weight[i] <= 0 {
			continue
		}
		s.a[kept], s.b[kept], s.w[kept], s.weight[kept] = s.a[i], s.b[i], s.w[i], s.weight[i]
		v = v.AddScaled(s.w[kept], s.weight[kept])
		kept++
	}
	s.n = kept
	return v
}

// originOnFacet returns the weights of a facet's corners, by their place in w, at its point
// nearest to the origin.
func originOnFacet(w [4]Vec, f [3]int) (weight [4]float64) {
	t := Triangle{w[f[0]], w[f[1]], w[f[2]]}
	p := t.closestTo(Vec{})
	n := t.B.Sub(t.A).Cross(t.C.Sub(t.A))
	if n2 := n.Dot(n); n2 > 0 {
		v := n.Dot(p.Sub(t.A).Cross(t.C.Sub(t.A))) / n2
		u := n.Dot(t.B.Sub(t.A).Cross(p.Sub(t.A))) / n2
		weight[f[0]], weight[f[1]], weight[f[2]] = tiny(1-u-v), tiny(v), tiny(u)
		if q := t.A.Scale(weight[f[0]]).AddScaled(t.B, weight[f[1]]).AddScaled(t.C, weight[f[2]]); q.Dist(p) < 1e-10 {
			return weight
		}
	}
	return originOnEdges(w, f)
}

// originOnEdges is originOnFacet for a facet without area.
func originOnEdges(w [4]Vec, f [3]int) (weight [4]float64) {
	least := math.Inf(1)
	for _, e := range [3][2]int{{f[0], f[1]}, {f[1], f[2]}, {f[2], f[0]}} {
		t := ClosestOnSegment(Vec{}, w[e[0]], w[e[1]])
		if d := w[e[0]].Lerp(w[e[1]], t).Norm(); d < least {
			least, weight = d, [4]float64{}
			weight[e[0]] += 1 - t
			weight[e[1]] += t
		}
	}
	return weight
}

// tiny drops weights that are rounding.
func tiny(weight float64) float64 {
	if weight < 1e-14 {
		return 0
	}
	return weight
}

// originInFour returns the weights of the four points nearest to the origin: all four when
// the origin lies between them.
func (s *simplex) originInFour() [4]float64 {
	a, b, c, d := s.w[0], s.w[1], s.w[2], s.w[3]
	whole := b.Sub(a).Dot(c.Sub(a).Cross(d.Sub(a)))
	if math.Abs(whole) > 1e-30 {
		parts := [4]float64{
			b.Dot(c.Cross(d)) / whole, -a.Dot(c.Cross(d)) / whole,
			a.Dot(b.Cross(d)) / whole, -a.Dot(b.Cross(c)) / whole,
		}
		if min(parts[0], parts[1], parts[2], parts[3]) > 0 && s.at(parts).Norm() < convexSlack {
			return parts // of points nearly in a plane the weights may be rounding
		}
	}
	var best [4]float64
	least := math.Inf(1)
	for _, f := range [4][3]int{{0, 1, 2}, {0, 1, 3}, {0, 2, 3}, {1, 2, 3}} {
		weight := originOnFacet(s.w, f)
		if d := s.at(weight).Norm(); d < least {
			least, best = d, weight
		}
	}
	return best
}

// at returns the point of the four that weights stand for.
func (s *simplex) at(weight [4]float64) Vec {
	var v Vec
	for i := range 4 {
		v = v.AddScaled(s.w[i], weight[i])
	}
	return v
}
