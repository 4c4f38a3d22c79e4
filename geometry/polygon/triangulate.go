package polygon

import "slices"

// Triangulate cuts the region inside outline and outside holes into triangles, given as
// indices into outline followed by the holes one after the other. outline runs
// anticlockwise, holes clockwise; none may cross itself or another. Every point is a
// corner of some triangle, so neighbours that share an outline fit without a gap.
//
// Ears are cut best-shaped first; without holes an outline of n points gives n - 2
// triangles.
func Triangulate(outline []Point, holes ...[]Point) [][3]int {
	points := slices.Clone(outline)
	ring := make([]int, len(outline))
	for i := range ring {
		ring[i] = i
	}
	for _, h := range holes {
		points = append(points, h...)
	}
	for _, h := range sortedHoles(len(outline), holes) {
		ring = bridge(points, ring, h)
	}
	e := newEars(points, ring)
	return e.cutAll()
}

// hole is a hole by its point numbers, starting with its rightmost point.
type hole struct {
	ring  []int
	right Point
}

// sortedHoles orders the holes from right to left, so that each can be bridged to what
// lies on its right.
func sortedHoles(base int, holes [][]Point) []hole {
	var out []hole
	for _, pts := range holes {
		best := 0
		for k, p := range pts {
			if p.X > pts[best].X {
				best = k
			}
		}
		ring := make([]int, len(pts))
		for k := range pts {
			ring[k] = base + (best+k)%len(pts)
		}
		out = append(out, hole{ring, pts[best]})
		base += len(pts)
	}
	slices.SortStableFunc(out, func(a, b hole) int {
		switch {
		case a.right.X > b.right.X:
			return -1
		case a.right.X < b.right.X:
			return 1
		default:
			return 0
		}
	})
	return out
}

// bridge joins the hole to the ring by a cut from its rightmost point to the nearest
// ring point that it can see, and returns the ring that goes round both.
func bridge(points []Point, ring []int, h hole) []int {
	best := -1
	for i, v := range ring {
		if best >= 0 && dist2(points[v], h.right) >= dist2(points[ring[best]], h.right) {
			continue
		}
		if inCone(points, ring, i, h.right) && sees(points, ring, points[v], h.right) && sees(points, h.ring, points[v], h.right) {
			best = i
		}
	}
	if best < 0 {
		return ring // the hole crosses the outline; it is left out
	}
	out := slices.Clone(ring[:best+1])
	out = append(out, h.ring...)
	out = append(out, h.ring[0])
	return append(out, ring[best:]...)
}

// inCone reports whether q lies in the interior angle of ring at its point i, which
// tells apart the two places that one point has once a cut runs to it.
func inCone(points []Point, ring []int, i int, q Point) bool {
	n := len(ring)
	before, at, after := points[ring[(i+n-1)%n]], points[ring[i]], points[ring[(i+1)%n]]
	if cross(before, at, after) >= 0 {
		return cross(before, at, q) > 0 && cross(at, after, q) > 0
	}
	return cross(before, at, q) > 0 || cross(at, after, q) > 0
}

// sees reports whether no side of the ring crosses the line from a to b, sides that end
// in a or b apart.
func sees(points []Point, ring []int, a, b Point) bool {
	for i, v := range ring {
		c, d := points[v], points[ring[(i+1)%len(ring)]]
		if c == a || c == b || d == a || d == b {
			continue
		}
		if cross(a, b, c)*cross(a, b, d) <= 0 && cross(c, d, a)*cross(c, d, b) <= 0 {
			return false
		}
	}
	return true
}
