package geometry

import "math"

// Crossing is where a line goes through a facet.
type Crossing struct {
	At   float64 // along the line, in units of its direction's length from its origin
	Face int32
	Out  bool // the line leaves: direction and the facet's normal agree
}

// Crossings appends to found every crossing of the ray origin + s · direction, s >= 0,
// with the mesh, unsorted. A ray through an edge or a corner counts as though it were
// moved aside by a vanishing amount, the same for all facets: on a closed mesh the
// number is odd inside and even outside, without exception.
// Woop, Benthin & Wald (2013), with ties broken as in Edelsbrunner & Mücke (1990); both
// from memory.
func (t *Tree) Crossings(origin, direction Vec, found []Crossing) []Crossing {
	if len(t.nodes) == 0 || direction == (Vec{}) {
		return found
	}
	ray := newShearedRay(origin, direction)
	var stack [treeDepth]int32
	for n := 1; n > 0; {
		n--
		at := stack[n]
		node := &t.nodes[at]
		if !ray.meets(node.box()) {
			continue
		}
		if node.count == 0 {
			stack[n], stack[n+1] = node.first, at+1
			n += 2
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			if s, out, ok := ray.crosses(t.triangle(k)); ok && s >= 0 {
				found = append(found, Crossing{s, t.faces[k], out})
			}
		}
	}
	return found
}

// shearedRay maps space so that the ray is the third axis.
type shearedRay struct {
	origin, direction Vec
	x, y, z           int     // the axes in cyclic order, z the longest of the direction
	shearX, shearY    float64 // what a step along z moves aside
}

func newShearedRay(origin, direction Vec) shearedRay {
	r := shearedRay{origin: origin, direction: direction}
	for a := range 3 {
		if math.Abs(direction.Axis(a)) > math.Abs(direction.Axis(r.z)) {
			r.z = a
		}
	}
	r.x, r.y = (r.z+1)%3, (r.z+2)%3
	dz := direction.Axis(r.z)
	r.shearX, r.shearY = direction.Axis(r.x)/dz, direction.Axis(r.y)/dz
	return r
}

// point2 is a corner seen along the ray, with its depth.
type point2 struct{ x, y, depth float64 }

// see returns v as seen along the ray. The conversions keep the products from being
// fused, so that two facets that share a corner see it alike on every processor.
func (r *shearedRay) see(v Vec) point2 {
	d := v.Sub(r.origin)
	z := d.Axis(r.z)
	return point2{d.Axis(r.x) - float64(r.shearX*z), d.Axis(r.y) - float64(r.shearY*z), z}
}

// crosses returns where the line meets t, and whether it leaves there.
func (r *shearedRay) crosses(t Triangle) (at float64, out, ok bool) {
	a, b, c := r.see(t.A), r.see(t.B), r.see(t.C)
	u, su := side(b, c)
	v, sv := side(c, a)
	w, sw := side(a, b)
	if su != sv || sv != sw || su == 0 {
		return 0, false, false
	}
	if sum := u + v + w; sum != 0 {
		at = (u*a.depth + v*b.depth + w*c.depth) / sum
	} else {
		at = a.depth
	}
	dz := r.direction.Axis(r.z)
	return at / dz, (su > 0) == (dz > 0), true
}

// side returns twice the signed area of the origin, p and q, and its sign, ties broken as
// though the origin were moved by (e, e²) with e vanishing. Swapping p and q changes
// both signs and nothing else.
func side(p, q point2) (area float64, sign int) {
	area = float64(p.x*q.y) - float64(p.y*q.x)
	for _, tie := range [3]float64{area, p.y - q.y, q.x - p.x} {
		if tie > 0 {
			return area, 1
		}
		if tie < 0 {
			return area, -1
		}
	}
	return area, 0
}

// meets reports whether the ray may touch the box; it errs towards yes.
func (r *shearedRay) meets(b Box) bool {
	slack := 1e-12 * (math.Abs(r.origin.X) + math.Abs(r.origin.Y) + math.Abs(r.origin.Z) + b.Size().Norm())
	low, high := 0.0, math.Inf(1)
	for a := range 3 {
		o, d := r.origin.Axis(a), r.direction.Axis(a)
		from, to := b.Min.Axis(a)-slack-o, b.Max.Axis(a)+slack-o
		if d == 0 {
			if from > 0 || to < 0 {
				return false
			}
			continue
		}
		s, e := from/d, to/d
		if d < 0 {
			s, e = e, s
		}
		low, high = max(low, s), min(high, e)
	}
	return low <= high
}
