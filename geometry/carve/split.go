package carve

import (
	"cmp"
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/polygon"
)

// split returns the facets of surface s, those that the other crosses cut up along the
// lines; false when a facet's lines do not part it cleanly.
func (x *crossing) split(s int) (pieces, bool) {
	p := pieces{cut: x.cut}
	for i, f := range x.mesh[s].Faces {
		lines := x.lines[s][int32(i)]
		if len(lines) == 0 && !x.touched(s, f) {
			p.faces = append(p.faces, [3]int32{f[0] + x.base[s], f[1] + x.base[s], f[2] + x.base[s]})
			continue
		}
		sheet := facet{points: x.points, ring: x.boundary(s, f), plane: planeOf(x.mesh[s].Triangle(i))}
		faces, ok := sheet.cutAlong(lines)
		if !ok {
			return p, false
		}
		p.faces = append(p.faces, faces...)
	}
	return p, true
}

// touched reports whether a side of the facet has piercing points.
func (x *crossing) touched(s int, f [3]int32) bool {
	for k := range 3 {
		if len(x.onEdge[s][sorted(f[k], f[(k+1)%3])]) > 0 {
			return true
		}
	}
	return false
}

// boundary returns the facet's corners with the points on its sides between them, in
// the order in which they stand; both facets of a side agree on it.
func (x *crossing) boundary(s int, f [3]int32) []int32 {
	var ring []int32
	for k := range 3 {
		a, b := f[k], f[(k+1)%3]
		ring = append(ring, a+x.base[s])
		low := x.mesh[s].Vertices[min(a, b)]
		on := slices.Clone(x.onEdge[s][sorted(a, b)])
		slices.SortFunc(on, func(p, q int32) int {
			return cmp.Or(cmp.Compare(x.points[p].Dist(low), x.points[q].Dist(low)), cmp.Compare(p, q))
		})
		if a > b {
			slices.Reverse(on)
		}
		ring = append(ring, on...)
	}
	return ring
}

// plane is a facet's own plane, in which it runs anticlockwise.
type plane struct{ origin, u, v geometry.Vec }

func planeOf(t geometry.Triangle) plane {
	u := t.B.Sub(t.A).Unit()
	return plane{t.A, u, t.AreaVector().Unit().Cross(u)}
}

func (p plane) flat(v geometry.Vec) polygon.Point {
	d := v.Sub(p.origin)
	return polygon.Point{X: d.Dot(p.u), Y: d.Dot(p.v)}
}

// facet is one facet on its way to being cut up.
type facet struct {
	points []geometry.Vec
	ring   []int32 // its boundary, anticlockwise
	plane  plane
}

// area is a part of a facet: an outline, anticlockwise, and holes, clockwise.
type area struct {
	outline []int32
	holes   [][]int32
}

// cutAlong parts the facet along chains of lines that run from boundary to boundary,
// and round closed chains inside it.
func (f *facet) cutAlong(lines [][2]int32) ([][3]int32, bool) {
	chains, loops, ok := trace(lines, f.ring)
	if !ok {
		return nil, false
	}
	areas := []area{{outline: f.ring}}
	for _, c := range chains {
		if areas, ok = partAlong(areas, c); !ok {
			return nil, false
		}
	}
	if areas, ok = f.punch(areas, loops); !ok {
		return nil, false
	}
	var out [][3]int32
	for _, a := range areas {
		out = append(out, f.triangulate(a)...)
	}
	return out, true
}

// partAlong cuts the area that has both ends of the chain on its outline in two.
func partAlong(areas []area, chain []int32) ([]area, bool) {
	first, last := chain[0], chain[len(chain)-1]
	for i, a := range areas {
		p, q := slices.Index(a.outline, first), slices.Index(a.outline, last)
		if p < 0 || q < 0 {
			continue
		}
		// From the chain's end round the outline to its start, and back along the chain.
		one := append(walk(a.outline, q, p), chain[1:len(chain)-1]...)
		back := slices.Clone(chain[1 : len(chain)-1])
		slices.Reverse(back)
		two := append(walk(a.outline, p, q), back...)
		areas[i] = area{outline: one}
		return append(areas, area{outline: two}), true
	}
	return areas, false
}

// walk returns the ring's points from place p on to place q, both included.
func walk(ring []int32, p, q int) []int32 {
	var out []int32
	for i := p; ; i = (i + 1) % len(ring) {
		out = append(out, ring[i])
		if i == q {
			return out
		}
	}
}

// punch makes each loop, the largest first, a hole in the area around it and an area of
// its own.
func (f *facet) punch(areas []area, loops [][]int32) ([]area, bool) {
	slices.SortStableFunc(loops, func(a, b []int32) int {
		return cmp.Compare(math.Abs(f.areaOf(b)), math.Abs(f.areaOf(a)))
	})
	for _, loop := range loops {
		if f.areaOf(loop) < 0 {
			slices.Reverse(loop)
		}
		placed := false
		for i := len(areas) - 1; i >= 0 && !placed; i-- {
			if placed = polygon.Contains(f.flat(areas[i].outline), f.plane.flat(f.points[loop[0]])); placed {
				hole := slices.Clone(loop)
				slices.Reverse(hole)
				areas[i].holes = append(areas[i].holes, hole)
			}
		}
		if !placed {
			return areas, false
		}
		areas = append(areas, area{outline: loop})
	}
	return areas, true
}

func (f *facet) areaOf(ring []int32) float64 { return polygon.Area(f.flat(ring)) }

func (f *facet) flat(ring []int32) []polygon.Point {
	out := make([]polygon.Point, len(ring))
	for i, p := range ring {
		out[i] = f.plane.flat(f.points[p])
	}
	return out
}

func (f *facet) triangulate(a area) [][3]int32 {
	all := slices.Clone(a.outline)
	holes := make([][]polygon.Point, len(a.holes))
	for i, h := range a.holes {
		holes[i] = f.flat(h)
		all = append(all, h...)
	}
	tris := polygon.Triangulate(f.flat(a.outline), holes...)
	out := make([][3]int32, len(tris))
	for i, t := range tris {
		out[i] = [3]int32{all[t[0]], all[t[1]], all[t[2]]}
	}
	return out
}
