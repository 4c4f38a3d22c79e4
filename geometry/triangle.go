package geometry

// Triangle is a facet by its three corners, anticlockwise as seen from outside.
type Triangle struct{ A, B, C Vec }

// AreaVector returns the outward normal times the area, m².
func (t Triangle) AreaVector() Vec { return t.B.Sub(t.A).Cross(t.C.Sub(t.A)).Scale(0.5) }

// Area returns the area, m².
func (t Triangle) Area() float64 { return t.AreaVector().Norm() }

// Normal returns the outward unit normal, or zero for a degenerate facet.
func (t Triangle) Normal() Vec { return t.AreaVector().Unit() }

// Centroid returns the mean of the corners.
func (t Triangle) Centroid() Vec { return t.A.Add(t.B).Add(t.C).Scale(1.0 / 3) }

// Bounds returns the smallest box around t.
func (t Triangle) Bounds() Box { return BoxOf(t.A, t.B, t.C) }

// Closest returns the point of t nearest to p, edges and corners included.
// Ericson (2005), section 5.1.5: by the Voronoi region of p.
func (t Triangle) Closest(p Vec) Vec {
	ab, ac, ap := t.B.Sub(t.A), t.C.Sub(t.A), p.Sub(t.A)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return t.A
	}
	bp := p.Sub(t.B)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return t.B
	}
	if vc := d1*d4 - d3*d2; vc <= 0 && d1 >= 0 && d3 <= 0 {
		return t.A.AddScaled(ab, d1/(d1-d3))
	}
	cp := p.Sub(t.C)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return t.C
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return t.A.AddScaled(ac, d2/(d2-d6))
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4 >= d3 && d5 >= d6 {
		return t.B.AddScaled(t.C.Sub(t.B), (d4-d3)/((d4-d3)+(d5-d6)))
	}
	scale := 1 / (va + vb + d1*d4 - d3*d2)
	return t.A.AddScaled(ab, vb*scale).AddScaled(ac, (d1*d4-d3*d2)*scale)
}
