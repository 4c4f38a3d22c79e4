package table

import "math"

// other returns kappa times what unit current at point k makes at point i in liquid with
// the surface alone, beyond what the stretch's own matrix holds, 1/m.
func (c *cell) other(i, k int) float64 {
	p, q := &c.points[i], &c.points[k]
	v := imaged(p, q, c.table.boxes.level)
	switch {
	case p.stretch != q.stretch:
		v += direct(p, q)
	case i != k: // a bent stretch is nearer to itself than a straight one
		v += coulomb(p.at.Dist(q.at), p.radius) - coulomb(p.along-q.along, p.radius)
	}
	return v
}

// imaged returns kappa times what the image of point q in the surface makes at p for unit
// current, 1/m.
func imaged(p, q *point, level float64) float64 {
	d := p.at.Sub(q.at.WithAxis(2, 2*level-q.at.Z))
	cp, cq := d.Dot(p.axis), d.Dot(q.axis.WithAxis(2, -q.axis.Z))
	return ringed(d.Dot(d), cp*cp, p.radius, cq*cq, q.radius)
}

// direct returns kappa times what unit current at point q makes at point p of another
// stretch, 1/m. Both are spread along their axes, which counts by the second Legendre
// polynomial of the angle between axis and way.
func direct(p, q *point) float64 {
	d := p.at.Sub(q.at)
	d2 := math.Max(d.Dot(d), p.radius*p.radius)
	cp, cq := d.Dot(p.axis), d.Dot(q.axis)
	spread := p.spread*(1.5*cp*cp/d2-0.5) + q.spread*(1.5*cq*cq/d2-0.5)
	return (1 + spread/(d2+2*math.Abs(spread))) / (4 * math.Pi * math.Sqrt(d2))
}

// coulomb returns kappa times the potential of unit current spread over about a radius, at
// a distance, 1/m.
func coulomb(d, radius float64) float64 {
	return 1 / (4 * math.Pi * math.Sqrt(d*d+radius*radius))
}

// ringed returns kappa times the mean potential round one rod of unit current out of a ring
// round another, 1/m: by the square of their distance, and for each rod by its radius and the
// square of the way's part along it. It is good to the second degree, and finite however near.
func ringed(d2, along2, radius, otherAlong2, otherRadius float64) float64 {
	if d2 == 0 {
		return coulomb(0, math.Hypot(radius, otherRadius))
	}
	more := radius*radius*(1.5*along2/d2-0.5) + otherRadius*otherRadius*(1.5*otherAlong2/d2-0.5)
	return 1 / (4 * math.Pi * math.Sqrt(math.Max(d2+more, (d2+radius*radius)/2)))
}
