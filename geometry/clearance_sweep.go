package geometry

import "math"

// Play says how far a rod may be from where it is meant to hang: any shift in the plane
// of the rim, any turn about the point where it goes through, and any slide along itself,
// all at once, and then as far as it droops. The zero value is none.
type Play struct {
	Position float64 // any way in the plane of the rim, m
	Tilt     float64 // about any axis through the point on the rim, rad; below a quarter turn
	Depth    float64 // along the rod, to either side, m
	Droop    Droop
}

// IsZero reports whether p leaves a rod where it is.
func (p Play) IsZero() bool { return p == Play{} }

// Reach returns how far a point of the rod may get at most from where it is meant to be,
// whichever way, m: at a distance from the hold along the rod, m, without droop. It is an
// upper bound that needs no facets.
func (p Play) Reach(distance float64) float64 {
	return p.Position + p.Depth + 2*math.Abs(distance)*math.Sin(p.Tilt/2)
}

// Hold is where a rod is held: the point where its axis goes through the plane of its
// opening, and that plane's normal.
type Hold struct {
	At     Vec     // on the rod's axis
	Along  Vec     // of the axis there, toward the clamp, of length 1
	Normal Vec     // of the rim's plane, of length 1
	S      float64 // of At, m from the tip
}

// Droop is how a rod bends under its own weight below where it is held: as a beam clamped
// there under an even load, by which it deflects by
// Load · s² (6L² − 4Ls + s²) / (24 Stiffness), s from the clamp and L the length beyond it.
// The zero value is a rod that does not.
type Droop struct {
	Load      Vec     // weight on a metre square to the rod, N/m
	Stiffness float64 // E · I, N m²
}

// At returns the deflection at s metres from the clamp on a length beyond it, m: zero above
// it. Timoshenko (1930), section on cantilevers under a uniform load.
func (d Droop) At(s, length float64) Vec {
	if s <= 0 || d.Stiffness <= 0 {
		return Vec{}
	}
	return d.Load.Scale(s * s * (6*length*length - 4*length*s + s*s) / (24 * d.Stiffness))
}

// sweep is the convex hull of all places of one solid of a rod within its play. The solid
// is the hull of its ends with a ball or a flat disc about each.
type sweep struct {
	pivot, normal Vec
	position      float64 // m
	sin, cos      float64 // of the tilt
	tilt          float64 // rad
	ends          [4]sweptEnd
	radius        float64 // m; of the ball or disc
	flat          bool
	axis          Vec // of the solid, for flat discs
	aligned       bool
}

// sweptEnd is an end from the pivot as it is meant to be, and its droop.
type sweptEnd struct{ at, sag Vec }

// sweepOf returns the sweep of a solid of a rod.
func sweepOf(s *solid, r *Rod, hold Hold, p Play) *sweep {
	w := &sweep{pivot: hold.At, normal: hold.Normal, position: p.Position, tilt: p.Tilt, radius: s.radius, flat: s.flat}
	w.sin, w.cos = math.Sincos(p.Tilt)
	w.axis = s.to.Sub(s.from).Unit()
	w.aligned = true
	for i, end := range [2]Vec{s.from, s.to} {
		x := end.Sub(hold.At)
		sag := p.Droop.At(x.Norm(), hold.S)
		if x.Dot(hold.Along) > 0 {
			sag = Vec{}
		}
		w.ends[2*i] = sweptEnd{x.AddScaled(hold.Along, p.Depth), sag}
		w.ends[2*i+1] = sweptEnd{x.AddScaled(hold.Along, -p.Depth), sag}
		if x.Cross(w.axis).Norm() > 1e-9 || w.axis.Cross(hold.Along).Norm() > 1e-9 {
			w.aligned = false
		}
	}
	return w
}

// thin returns the sweep of the axis alone.
func (w *sweep) thin() *sweep {
	t := *w
	t.radius, t.flat = 0, false
	return &t
}

// support implements convex.
func (w *sweep) support(d Vec) Vec {
	d = d.Unit()
	p := w.pivot
	if aside := d.AddScaled(w.normal, -d.Dot(w.normal)); w.position > 0 {
		p = p.AddScaled(aside.Unit(), w.position)
	}
	best, most := Vec{}, math.Inf(-1)
	for i := range w.ends {
		q := w.endSupport(&w.ends[i], d)
		if w.ends[i].sag.Dot(d) > 0 {
			q = q.Add(w.ends[i].sag)
		}
		if along := q.Dot(d); along > most {
			best, most = q, along
		}
	}
	switch {
	case !w.flat:
		return p.Add(best).AddScaled(d, w.radius)
	case w.aligned:
		return p.Add(best)
	default:
		return p.Add(best).Add(w.discSupport(d))
	}
}

// endSupport returns the place of an end, turned by up to the tilt, that is farthest along
// the unit vector d; with its disc when that turns about the pivot with it.
func (w *sweep) endSupport(e *sweptEnd, d Vec) Vec {
	if !w.flat || !w.aligned {
		return turnedToward(e.at, d, w.tilt, w.sin, w.cos)
	}
	// R cos ψ + r sin ψ, ψ from d to the turned axis, is greatest at ψ = atan2(r, R).
	along := e.at.Dot(w.axis)
	psi := math.Acos(min(max(w.axis.Dot(d), -1), 1))
	best := math.Atan2(w.radius, along)
	best = min(max(best, max(0, psi-w.tilt)), min(math.Pi, psi+w.tilt))
	aside := w.axis.AddScaled(d, -w.axis.Dot(d)).Unit()
	if aside == (Vec{}) {
		aside, _ = d.Perpendicular()
	}
	sin, cos := math.Sincos(best)
	axis, out := d.Scale(cos).AddScaled(aside, sin), d.Scale(sin).AddScaled(aside, -cos)
	return axis.Scale(along).AddScaled(out, w.radius)
}

// discSupport returns the point farthest along d of all discs about the origin square to
// an axis within the tilt of the solid's.
func (w *sweep) discSupport(d Vec) Vec {
	psi := math.Acos(min(max(w.axis.Dot(d), -1), 1))
	best := min(max(math.Pi/2, psi-w.tilt), psi+w.tilt)
	aside := w.axis.AddScaled(d, -w.axis.Dot(d)).Unit()
	if aside == (Vec{}) {
		aside, _ = d.Perpendicular()
	}
	sin, cos := math.Sincos(best)
	return d.Scale(sin).AddScaled(aside, -cos).Scale(w.radius)
}

// turnedToward returns x turned toward the unit vector d by at most the angle, whose sine
// and cosine are given, m.
func turnedToward(x, d Vec, angle, sin, cos float64) Vec {
	length := x.Norm()
	if length == 0 || angle == 0 {
		return x
	}
	if x.Dot(d) >= length*cos {
		return d.Scale(length)
	}
	u := x.Scale(1 / length)
	aside := d.AddScaled(u, -d.Dot(u)).Unit()
	if aside == (Vec{}) { // d points back along x: any way round will do
		aside, _ = u.Perpendicular()
	}
	return u.Scale(length*cos).AddScaled(aside, length*sin)
}
