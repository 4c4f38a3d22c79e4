package mend

import (
	"cmp"
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// cracks is what was joined.
type cracks struct {
	sides  int     // pairs of facets' sides brought together
	widest float64 // m
	most   geometry.Vec
}

// crackRounds is how often sides are matched: each round leaves corners nearer to where
// they belong, and the sides that are left are easier to tell apart.
const crackRounds = 4

// joinCracks brings open sides together that run beside each other within reach metres,
// the nearest first, and puts the corners that become one at their mean.
func joinCracks(m *geometry.Mesh, edges []topology.Edge, reach float64) (cracks, []topology.Edge) {
	var done cracks
	for range crackRounds {
		pairs := matchSides(m, edges, reach)
		if len(pairs) == 0 {
			break
		}
		j := newJoiner(m, reach)
		joined := j.join(pairs, &done)
		if joined == 0 {
			break
		}
		done.sides += joined
		*m = j.mesh()
		edges = topology.Edges(m)
	}
	return done, edges
}

// openSide is a facet's side that no other facet has.
type openSide struct {
	a, b int32 // from, to, as the facet runs
	face int32
	off  geometry.Vec // unit, in the facet, square to the side, towards the third corner
}

// sidePair is two open sides that may be one.
type sidePair struct {
	first, second openSide
	crossed       bool    // first's start is second's end, as for facets turned alike
	cost          float64 // summed squares of the ends' distances, m²
	gap           float64 // greater of the two distances, m
}

func openSides(m *geometry.Mesh, edges []topology.Edge) []openSide {
	var out []openSide
	for _, e := range edges {
		if !e.IsOpen() {
			continue
		}
		s := openSide{a: e.A, b: e.B, face: e.Uses[0].Face}
		if !e.Uses[0].Forward {
			s.a, s.b = s.b, s.a
		}
		t := m.Triangle(int(s.face))
		along := m.Vertices[s.b].Sub(m.Vertices[s.a]).Unit()
		off := t.Centroid().Sub(m.Vertices[s.a])
		s.off = off.AddScaled(along, -off.Dot(along)).Unit()
		out = append(out, s)
	}
	return out
}

// matchSides lists the pairs of open sides that may be one, the nearest first.
func matchSides(m *geometry.Mesh, edges []topology.Edge, reach float64) []sidePair {
	sides := openSides(m, edges)
	index := newBins(reach)
	var pairs []sidePair
	for i := range sides {
		middle := m.Vertices[sides[i].a].Lerp(m.Vertices[sides[i].b], 0.5)
		index.within(middle, reach, func(k int32) {
			if p, ok := pairOf(m, sides[k], sides[i], reach); ok {
				pairs = append(pairs, p)
			}
		})
		index.add(middle)
	}
	slices.SortFunc(pairs, func(p, q sidePair) int {
		return cmp.Or(cmp.Compare(p.cost, q.cost), cmp.Compare(p.first.face, q.first.face), cmp.Compare(p.second.face, q.second.face))
	})
	return pairs
}

// folded is the cosine between two facets' directions away from a shared side beyond which
// they lie on each other instead of going on from each other.
const folded = 0.6

// pairOf returns the two sides as a pair, if they lie near enough and their facets do not
// lie on each other.
func pairOf(m *geometry.Mesh, s, t openSide, reach float64) (sidePair, bool) {
	if s.face == t.face || s.off.Dot(t.off) > folded {
		return sidePair{}, false
	}
	at := m.Vertices
	p := sidePair{first: s, second: t, crossed: true}
	d1, d2 := at[s.a].Dist(at[t.b]), at[s.b].Dist(at[t.a])
	if e1, e2 := at[s.a].Dist(at[t.a]), at[s.b].Dist(at[t.b]); e1*e1+e2*e2 < d1*d1+d2*d2 {
		d1, d2, p.crossed = e1, e2, false
	}
	p.cost, p.gap = d1*d1+d2*d2, math.Max(d1, d2)
	length := math.Min(at[s.a].Dist(at[s.b]), at[t.a].Dist(at[t.b]))
	share := 0.85
	if s.a == t.a || s.b == t.b || s.a == t.b || s.b == t.a {
		share = 0.5 // two sides of one hole: joined only where it is a slit
	}
	return p, p.gap <= reach && p.gap <= share*length
}

// joiner makes corners one, as long as no facet loses a side by it.
type joiner struct {
	from   *geometry.Mesh
	reach  float64
	parent []int32
	sum    []geometry.Vec // of the corners that are one, by root
	count  []float64
	faces  [][]int32 // facets at the root
	done   map[[2]int32]bool
}

func newJoiner(m *geometry.Mesh, reach float64) *joiner {
	n := len(m.Vertices)
	j := &joiner{from: m, reach: reach, parent: make([]int32, n), sum: slices.Clone(m.Vertices), count: make([]float64, n),
		faces: make([][]int32, n), done: map[[2]int32]bool{}}
	for v := range n {
		j.parent[v], j.count[v] = int32(v), 1
	}
	for f, face := range m.Faces {
		for _, v := range face {
			j.faces[v] = append(j.faces[v], int32(f))
		}
	}
	return j
}

func (j *joiner) root(v int32) int32 {
	for j.parent[v] != v {
		j.parent[v] = j.parent[j.parent[v]]
		v = j.parent[v]
	}
	return v
}

// join makes pairs one in their order, each side once, and returns how many it joined.
func (j *joiner) join(pairs []sidePair, done *cracks) int {
	joined := 0
	for _, p := range pairs {
		first, second := [2]int32{p.first.a, p.first.b}, [2]int32{p.second.a, p.second.b}
		if j.done[first] || j.done[second] || !j.joinSides(p) {
			continue
		}
		j.done[first], j.done[second] = true, true
		joined++
		if p.gap > done.widest {
			done.widest, done.most = p.gap, j.from.Vertices[p.first.a]
		}
	}
	return joined
}

func (j *joiner) joinSides(p sidePair) bool {
	ends := [2][2]int32{{p.first.a, p.second.a}, {p.first.b, p.second.b}}
	if p.crossed {
		ends = [2][2]int32{{p.first.a, p.second.b}, {p.first.b, p.second.a}}
	}
	for _, e := range ends {
		if !j.mayUnite(e[0], e[1]) {
			return false
		}
	}
	for _, e := range ends {
		j.unite(e[0], e[1])
	}
	return true
}

// mayUnite reports whether two corners can be one: near enough as they now stand, and no
// facet has both.
func (j *joiner) mayUnite(a, b int32) bool {
	a, b = j.root(a), j.root(b)
	if a == b {
		return true
	}
	if j.sum[a].Scale(1/j.count[a]).Dist(j.sum[b].Scale(1/j.count[b])) > j.reach {
		return false
	}
	if len(j.faces[b]) < len(j.faces[a]) {
		a, b = b, a
	}
	for _, f := range j.faces[a] {
		for _, v := range j.from.Faces[f] {
			if j.root(v) == b {
				return false
			}
		}
	}
	return true
}

func (j *joiner) unite(a, b int32) {
	a, b = j.root(a), j.root(b)
	if a == b {
		return
	}
	if a > b {
		a, b = b, a
	}
	j.parent[b] = a
	j.sum[a], j.count[a] = j.sum[a].Add(j.sum[b]), j.count[a]+j.count[b]
	j.faces[a] = append(j.faces[a], j.faces[b]...)
	j.faces[b] = nil
}

// mesh returns the facets by the corners that are left, without those that lost a side or
// repeat another.
func (j *joiner) mesh() geometry.Mesh {
	out := geometry.Mesh{Vertices: slices.Clone(j.from.Vertices)}
	for v := range j.parent {
		if j.parent[v] == int32(v) && j.count[v] > 1 {
			out.Vertices[v] = j.sum[v].Scale(1 / j.count[v])
		}
	}
	for _, f := range j.from.Faces {
		f = [3]int32{j.root(f[0]), j.root(f[1]), j.root(f[2])}
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			out.Faces = append(out.Faces, f)
		}
	}
	return compact(out)
}

// compact drops the corners that no facet has.
func compact(m geometry.Mesh) geometry.Mesh {
	number := make([]int32, len(m.Vertices))
	out := geometry.Mesh{Faces: make([][3]int32, len(m.Faces))}
	for i, f := range m.Faces {
		for k, v := range f {
			if number[v] == 0 {
				out.Vertices = append(out.Vertices, m.Vertices[v])
				number[v] = int32(len(out.Vertices))
			}
			out.Faces[i][k] = number[v] - 1
		}
	}
	return out
}
