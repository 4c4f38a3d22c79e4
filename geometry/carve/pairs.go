package carve

import (
	"cmp"
	"slices"

	"evenwall/geometry"
)

// boxed is a facet with the box around it.
type boxed struct {
	facet int32
	box   geometry.Box
}

// overlapping returns the pairs of facets of a and b whose boxes overlap, by sweeping
// along x over those that reach into both bounds.
func overlapping(a, b *geometry.Mesh) [][2]int32 {
	left, right := reaching(a, b.Bounds()), reaching(b, a.Bounds())
	var pairs [][2]int32
	start := 0
	for _, p := range left {
		// Boxes are sorted by their lower x; those that end before every later p does
		// are found again and again only while a longer one stands before them.
		for start < len(right) && right[start].box.Max.X < p.box.Min.X {
			start++
		}
		for _, q := range right[start:] {
			if q.box.Min.X > p.box.Max.X {
				break
			}
			if p.box.Overlaps(q.box) {
				pairs = append(pairs, [2]int32{p.facet, q.facet})
			}
		}
	}
	return pairs
}

// reaching returns the facets of m whose boxes overlap bounds, by their lower x.
func reaching(m *geometry.Mesh, bounds geometry.Box) []boxed {
	var out []boxed
	for i := range m.Faces {
		if b := m.Triangle(i).Bounds(); b.Overlaps(bounds) {
			out = append(out, boxed{int32(i), b})
		}
	}
	slices.SortFunc(out, func(p, q boxed) int {
		return cmp.Or(cmp.Compare(p.box.Min.X, q.box.Min.X), cmp.Compare(p.facet, q.facet))
	})
	return out
}
