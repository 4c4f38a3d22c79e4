package mend

import (
	"cmp"
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Kind says what a gap in the surface was taken for. The zero value is a hole that was
// closed as wall.
type Kind int

const (
	Closed Kind = iota // as wall, by a patch
	Filler             // a round opening that the job names
	Slit               // what is left of a crack, closed
	Seam               // a gap all round between two pieces, closed by a strip
)

// String returns what the gap was taken for, in plain words.
func (k Kind) String() string {
	switch k {
	case Filler:
		return "opening"
	case Slit:
		return "slit"
	case Seam:
		return "seam"
	default:
		return "wall"
	}
}

// Hole is a gap in the surface that was closed. The patch in an opening is cut out again
// by whoever cuts the openings.
type Hole struct {
	Kind    Kind
	Centre  geometry.Vec // m
	Across  float64      // greatest width, m
	Area    float64      // of the patch, m²
	Opening string       // name, of a Filler
}

// holed is a hole with the facets that fill it.
type holed struct {
	Hole
	loop  []int32
	faces [][3]int32
}

// holesOf finds the holes of m and what would fill each.
func holesOf(m *geometry.Mesh, edges []topology.Edge, s *Settings, reach float64) []holed {
	var out []holed
	sides := newSides(edges)
	for _, loop := range loopsOf(edges) {
		h := holed{loop: loop}
		slices.Reverse(h.loop) // a patch runs along each side against the facet beside it
		h.fill(m, sides)
		h.Centre, h.Across = middle(m, h.loop), across(m, h.loop)
		h.Kind, h.Opening = s.kindOf(m, &h, reach)
		out = append(out, h)
	}
	return out
}

// sides knows which corners a side joins already: of the facets, and of patches since.
type sides struct {
	edges []topology.Edge
	added map[[2]int32]bool
}

func newSides(edges []topology.Edge) *sides { return &sides{edges, map[[2]int32]bool{}} }

func (s *sides) has(a, b int32) bool {
	return s.added[[2]int32{min(a, b), max(a, b)}] || hasEdge(s.edges, a, b)
}

func (s *sides) add(faces [][3]int32) {
	for _, f := range faces {
		for k := range 3 {
			a, b := f[k], f[(k+1)%3]
			s.added[[2]int32{min(a, b), max(a, b)}] = true
		}
	}
}

func (h *holed) fill(m *geometry.Mesh, s *sides) {
	points := make([]geometry.Vec, len(h.loop))
	for i, v := range h.loop {
		points[i] = m.Vertices[v]
	}
	for _, p := range patch(points, func(i, k int) bool { return s.has(h.loop[i], h.loop[k]) }) {
		h.Area += geometry.Triangle{A: points[p[0]], B: points[p[1]], C: points[p[2]]}.Area()
		h.faces = append(h.faces, [3]int32{h.loop[p[0]], h.loop[p[1]], h.loop[p[2]]})
	}
	s.add(h.faces)
}

// hasEdge reports whether an edge is among edges ordered by A, then B.
func hasEdge(edges []topology.Edge, a, b int32) bool {
	_, ok := findEdge(edges, a, b)
	return ok
}

func findEdge(edges []topology.Edge, a, b int32) (int, bool) {
	if a > b {
		a, b = b, a
	}
	return slices.BinarySearchFunc(edges, [2]int32{a, b}, func(e topology.Edge, k [2]int32) int {
		return cmp.Or(cmp.Compare(e.A, k[0]), cmp.Compare(e.B, k[1]))
	})
}

// kindOf tells what a hole is: an opening when its rim lies in or just round that opening's
// circle, a slit when it is narrower than a crack.
func (s *Settings) kindOf(m *geometry.Mesh, h *holed, reach float64) (Kind, string) {
	for i := range s.Openings {
		if s.Openings[i].holds(m, h) {
			return Filler, s.Openings[i].Name
		}
	}
	if h.Area < reach*h.Across {
		return Slit, ""
	}
	return Closed, ""
}

const (
	// rimShare is how far outside an opening's circle the rim of its hole runs at most, as
	// a share of the radius, but for a quarter of the rim: facets lost beside it.
	rimShare = 0.25
	// rimReach is how far the rest of the rim may run.
	rimReach = 1.0
)

// holds reports whether a hole's rim runs round in the opening's circle, or just outside.
func (o *Opening) holds(m *geometry.Mesh, h *holed) bool {
	axis, r := o.Disc.Axis.Unit(), o.Disc.Radius
	if h.Across < r {
		return false
	}
	astray := 0
	for _, v := range h.loop {
		d := m.Vertices[v].Sub(o.Disc.Centre)
		z := d.Dot(axis)
		away := d.AddScaled(axis, -z).Norm()
		if math.Abs(z) > o.Disc.Depth+rimShare*r || away > (1+rimReach)*r {
			return false
		}
		if away > (1+rimShare)*r {
			astray++
		}
	}
	return 4*astray <= len(h.loop)
}

// middle returns the mean of a loop's corners.
func middle(m *geometry.Mesh, loop []int32) geometry.Vec {
	var sum geometry.Vec
	for _, v := range loop {
		sum = sum.Add(m.Vertices[v])
	}
	return sum.Scale(1 / float64(len(loop)))
}

// across returns the greatest distance between two corners of a loop, of long ones between
// some of them.
func across(m *geometry.Mesh, loop []int32) float64 {
	most := 0.0
	step := max(1, len(loop)/256)
	for i := 0; i < len(loop); i += step {
		for k := i + 1; k < len(loop); k++ {
			most = math.Max(most, m.Vertices[loop[i]].Dist(m.Vertices[loop[k]]))
		}
	}
	return most
}
