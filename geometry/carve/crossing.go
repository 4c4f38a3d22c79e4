package carve

import (
	"slices"

	"evenwall/geometry"
)

// crossing is where two surfaces, number 0 and 1, meet: points where an edge of one
// pierces a facet of the other, and the line of each pair of facets between two of them.
// Every decision is made once, on corners in a fixed order, so that neighbouring facets
// never disagree.
type crossing struct {
	mesh   [2]*geometry.Mesh
	base   [2]int32       // number of each mesh's first corner among points
	points []geometry.Vec // corners of 0, corners of 1, piercing points
	known  map[piercing]int32
	lines  [2]map[int32][][2]int32 // by facet: pairs of points
	onEdge [2]map[[2]int32][]int32 // by edge: its piercing points
	cut    map[[2]int32]bool       // lines, lower point first
}

// piercing names the point where an edge (A < B) of a surface pierces a facet of the
// other.
type piercing struct {
	surface int8
	a, b    int32
	facet   int32
}

func newCrossing(a, b *geometry.Mesh) *crossing {
	x := &crossing{mesh: [2]*geometry.Mesh{a, b}, known: map[piercing]int32{}, cut: map[[2]int32]bool{}}
	x.base = [2]int32{0, int32(len(a.Vertices))}
	x.points = append(append(x.points, a.Vertices...), b.Vertices...)
	for i := range 2 {
		x.lines[i] = map[int32][][2]int32{}
		x.onEdge[i] = map[[2]int32][]int32{}
	}
	return x
}

// meet finds all lines in which facets cross; false when a pair of facets meets in
// anything but a line.
func (x *crossing) meet() bool {
	for _, pair := range overlapping(x.mesh[0], x.mesh[1]) {
		var ends []int32
		for s := range 2 {
			face := x.mesh[s].Faces[pair[s]]
			for k := range 3 {
				if p := x.pierce(s, face[k], face[(k+1)%3], pair[1-s]); p >= 0 {
					ends = append(ends, p)
				}
			}
		}
		switch len(ends) {
		case 0:
		case 2:
			x.addLine(pair, ends[0], ends[1])
		default:
			return false
		}
	}
	return true
}

func (x *crossing) addLine(pair [2]int32, p, q int32) {
	for s := range 2 {
		x.lines[s][pair[s]] = append(x.lines[s][pair[s]], [2]int32{p, q})
	}
	x.cut[sorted(p, q)] = true
}

// pierce returns the point where the edge from a to b of surface s pierces the facet
// of the other surface, or -1.
func (x *crossing) pierce(s int, a, b, facet int32) int32 {
	if a > b {
		a, b = b, a
	}
	key := piercing{int8(s), a, b, facet}
	if p, ok := x.known[key]; ok {
		return p
	}
	p := int32(-1)
	if at, ok := x.piercePoint(s, a, b, facet); ok {
		p = int32(len(x.points))
		x.points = append(x.points, at)
		x.onEdge[s][[2]int32{a, b}] = append(x.onEdge[s][[2]int32{a, b}], p)
	}
	x.known[key] = p
	return p
}

func (x *crossing) piercePoint(s int, a, b, facet int32) (geometry.Vec, bool) {
	other := 1 - s
	f := x.mesh[other].Faces[facet]
	from, to := x.volume(f, other, a, s), x.volume(f, other, b, s)
	if (from > 0) == (to > 0) {
		return geometry.Vec{}, false
	}
	turn := [3]bool{}
	for k := range 3 {
		turn[k] = x.turn(s, a, b, f[k], f[(k+1)%3]) > 0
	}
	if turn[0] != turn[1] || turn[1] != turn[2] {
		return geometry.Vec{}, false
	}
	p, q := x.mesh[s].Vertices[a], x.mesh[s].Vertices[b]
	return p.Lerp(q, from/(from-to)), true
}

// volume returns six times the signed volume of facet f of surface fs and corner v of
// surface vs, from the facet's corners in ascending order, so that its magnitude is the
// same for every way the facet is turned.
func (x *crossing) volume(f [3]int32, fs int, v int32, vs int) float64 {
	slices.Sort(f[:]) // of the sign only a change from corner to corner matters
	m := x.mesh[fs].Vertices
	o := x.mesh[vs].Vertices[v]
	return m[f[0]].Sub(o).Dot(m[f[1]].Sub(o).Cross(m[f[2]].Sub(o)))
}

// turn tells on which side of the line a b of surface s the edge c d of the other
// passes: the same number, but for its sign, from both facets that have the edge.
func (x *crossing) turn(s int, a, b, c, d int32) float64 {
	sign := 1.0
	if c > d {
		c, d, sign = d, c, -1
	}
	m, n := x.mesh[s].Vertices, x.mesh[1-s].Vertices
	p, q := m[a], m[b]
	return sign * q.Sub(p).Dot(n[c].Sub(p).Cross(n[d].Sub(p)))
}

func sorted(p, q int32) [2]int32 {
	if p > q {
		p, q = q, p
	}
	return [2]int32{p, q}
}
