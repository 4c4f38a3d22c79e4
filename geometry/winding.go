package geometry

import "math"

// SolidAngle returns the signed solid angle of t as seen from p, in steradians: positive
// when p is on the inner side. It is 0 for p in the plane of t.
// van Oosterom & Strackee (1983), eq. 8.
func (t Triangle) SolidAngle(p Vec) float64 {
	a, b, c := t.A.Sub(p), t.B.Sub(p), t.C.Sub(p)
	la, lb, lc := a.Norm(), b.Norm(), c.Norm()
	numerator := a.Dot(b.Cross(c))
	denominator := la*lb*lc + a.Dot(b)*lc + b.Dot(c)*la + c.Dot(a)*lb
	if numerator == 0 {
		return 0
	}
	return 2 * math.Atan2(numerator, denominator)
}

// Winding returns the signed winding number of m about p by summing over every face: 1
// inside a closed surface with outward normals, 0 outside, in between near holes and
// rims, 2 where two solids overlap. Jacobson, Kavan & Sorkine-Hornung (2013), eq. 4.
func (m *Mesh) Winding(p Vec) float64 {
	sum := 0.0
	for i := range m.Faces {
		sum += m.Triangle(i).SolidAngle(p)
	}
	return sum / (4 * math.Pi)
}

// Winding gives winding numbers quickly: far groups of facets are replaced by the first
// terms of their expansion. At keeps within 0.04 of the direct sum (the greatest seen is
// 0.022, on a ball crumpled by a tenth of its radius), so an inside test at one half is as
// good as the sum's but for points that near to a tie.
type Winding struct {
	tree   *Tree
	groups []windingGroup // one for each node of the tree
}

// windingGroup is the expansion of the facets below one node.
type windingGroup struct {
	centre Vec     // mean of the centroids, weighted by area
	dipole Vec     // summed area vectors, m²
	moment [3]Vec  // summed (centroid − centre)_i · area vector, m³
	area   float64 // m²
	reach  float64 // m from centre to the farthest corner
}

// windingReach is how many reaches away a group is taken as a whole
// (Barill et al. 2018 recommend 2, with one more term than here).
const windingReach = 3

// NewWinding prepares the expansion over t.
func NewWinding(t *Tree) *Winding {
	w := &Winding{tree: t, groups: make([]windingGroup, len(t.nodes))}
	for i := len(t.nodes) - 1; i >= 0; i-- {
		if node := &t.nodes[i]; node.count > 0 {
			w.groups[i] = t.groupOf(node)
		} else {
			w.groups[i] = w.groups[i+1].with(&w.groups[node.first])
		}
		w.groups[i].reach = reachOf(t.nodes[i].box(), w.groups[i].centre)
	}
	return w
}

// groupOf returns the group of a leaf.
func (t *Tree) groupOf(leaf *treeNode) windingGroup {
	g := windingGroup{}
	for k := leaf.first; k < leaf.first+leaf.count; k++ {
		f := t.triangle(k)
		area := f.Area()
		g.area += area
		g.centre = g.centre.AddScaled(f.Centroid(), area)
		g.dipole = g.dipole.Add(f.AreaVector())
	}
	if g.area > 0 {
		g.centre = g.centre.Scale(1 / g.area)
	} else {
		g.centre = t.triangle(leaf.first).Centroid()
	}
	for k := leaf.first; k < leaf.first+leaf.count; k++ {
		f := t.triangle(k)
		g.addMoment(f.Centroid(), f.AreaVector())
	}
	return g
}

// with returns the group of both.
func (g *windingGroup) with(h *windingGroup) windingGroup {
	sum := windingGroup{area: g.area + h.area, dipole: g.dipole.Add(h.dipole), centre: g.centre}
	if sum.area > 0 {
		sum.centre = g.centre.Scale(g.area/sum.area).AddScaled(h.centre, h.area/sum.area)
	}
	for i := range 3 {
		sum.moment[i] = g.moment[i].Add(h.moment[i])
	}
	sum.addMoment(g.centre, g.dipole)
	sum.addMoment(h.centre, h.dipole)
	return sum
}

func (g *windingGroup) addMoment(at, areaVector Vec) {
	d := at.Sub(g.centre)
	g.moment[0] = g.moment[0].AddScaled(areaVector, d.X)
	g.moment[1] = g.moment[1].AddScaled(areaVector, d.Y)
	g.moment[2] = g.moment[2].AddScaled(areaVector, d.Z)
}

func reachOf(b Box, p Vec) float64 {
	return Vec{
		max(p.X-b.Min.X, b.Max.X-p.X), max(p.Y-b.Min.Y, b.Max.Y-p.Y), max(p.Z-b.Min.Z, b.Max.Z-p.Z),
	}.Norm()
}

// At returns the winding number about p.
func (w *Winding) At(p Vec) float64 {
	var stack [treeDepth]int32
	if len(w.groups) == 0 {
		return 0
	}
	sum := 0.0
	for n := 1; n > 0; {
		n--
		at := stack[n]
		node, group := &w.tree.nodes[at], &w.groups[at]
		if r := group.centre.Sub(p); r.Dot(r) > windingReach*windingReach*group.reach*group.reach {
			sum += group.seenFrom(r)
			continue
		}
		if node.count == 0 {
			stack[n], stack[n+1] = node.first, at+1
			n += 2
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			sum += w.tree.triangle(k).SolidAngle(p)
		}
	}
	return sum / (4 * math.Pi)
}

// seenFrom returns the group's solid angle from its first two terms, in steradians; r is
// the vector from the point to the group's centre. Barill et al. (2018), eqs. 10 and 13.
func (g *windingGroup) seenFrom(r Vec) float64 {
	r2 := r.Dot(r)
	r3 := r2 * math.Sqrt(r2)
	trace := g.moment[0].X + g.moment[1].Y + g.moment[2].Z
	quadratic := r.X*g.moment[0].Dot(r) + r.Y*g.moment[1].Dot(r) + r.Z*g.moment[2].Dot(r)
	return g.dipole.Dot(r)/r3 + trace/r3 - 3*quadratic/(r3*r2)
}
