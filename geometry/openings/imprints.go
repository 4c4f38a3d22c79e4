package openings

import (
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// imprints returns the circles that the facets' sides draw inside flat walls. Where
// three or more circles share a middle the wall is meshed in rings, and none counts.
func imprints(m *geometry.Mesh, edges []topology.Edge, flat regions) []Ring {
	var out []Ring
	for id, sides := range insideEdges(edges, flat) {
		if reg := flat.list[id]; reg.area > math.Pi/4*sq(leastDiameter) && len(sides) > imprintLeast {
			out = append(out, withoutConcentric(newDrawing(m, reg.normal, sides).circles())...)
		}
	}
	return out
}

// insideEdges lists for each flat wall the edges with a facet of it on both sides.
func insideEdges(edges []topology.Edge, flat regions) [][]topology.Edge {
	inside := make([][]topology.Edge, len(flat.list))
	for _, e := range edges {
		if len(e.Uses) != 2 {
			continue
		}
		if id := flat.of[e.Uses[0].Face]; id == flat.of[e.Uses[1].Face] {
			inside[id] = append(inside[id], e)
		}
	}
	return inside
}

func withoutConcentric(rings []Ring) []Ring {
	return slices.DeleteFunc(slices.Clone(rings), func(r Ring) bool {
		shared := 0
		for _, o := range rings {
			if o.Centre.Dist(r.Centre) < 0.05*r.Diameter {
				shared++
			}
		}
		return shared > 2
	})
}

// drawing is the net of edges inside a flat wall.
type drawing struct {
	m      *geometry.Mesh
	normal geometry.Vec
	from   []int32           // vertices with edges, ascending
	next   map[int32][]int32 // the vertices that each is joined to
	taken  map[[2]int32]bool // directed edges of circles already found
}

func newDrawing(m *geometry.Mesh, normal geometry.Vec, edges []topology.Edge) *drawing {
	d := &drawing{m: m, normal: normal, next: map[int32][]int32{}, taken: map[[2]int32]bool{}}
	for _, e := range edges {
		d.next[e.A] = append(d.next[e.A], e.B)
		d.next[e.B] = append(d.next[e.B], e.A)
	}
	for v := range d.next {
		d.from = append(d.from, v)
	}
	slices.Sort(d.from)
	return d
}

// circles follows every pair of sides that turns a little to the left round the circle
// that it begins.
func (d *drawing) circles() []Ring {
	var out []Ring
	for _, a := range d.from {
		for _, b := range d.next[a] {
			for _, c := range d.next[b] {
				if d.taken[[2]int32{a, b}] || c == a {
					continue
				}
				if ring, ok := d.follow(a, b, c); ok {
					out = append(out, ring)
				}
			}
		}
	}
	return out
}

// follow walks round the circle through a, b, c from side to side, and returns it when
// the walk comes back to a.
func (d *drawing) follow(a, b, c int32) (Ring, bool) {
	centre, radius, ok := d.circleThrough(a, b, c)
	if !ok {
		return Ring{}, false
	}
	path := []int32{a, b}
	most := int(2*math.Pi*radius/(0.5*d.side(a, b))) + 1
	for at := c; at != a; {
		if len(path) > most || at == b {
			return Ring{}, false
		}
		path = append(path, at)
		if at, ok = d.step(path[len(path)-2], at, centre, radius); !ok {
			return Ring{}, false
		}
	}
	if len(path) < imprintLeast {
		return Ring{}, false
	}
	fit, ok := fitCircle(pick(d.m, path))
	if !ok || !fit.isRound(imprintStray) {
		return Ring{}, false
	}
	for i, v := range path {
		w := path[(i+1)%len(path)]
		d.taken[[2]int32{v, w}], d.taken[[2]int32{w, v}] = true, true
	}
	return Ring{Imprint, fit.centre, d.normal, 2 * fit.radius, fit.rms, len(path)}, true
}

// circleThrough returns the circle through three joined vertices if it turns left by 1
// to 24 degrees on sides of about one length, and has an opening's size.
func (d *drawing) circleThrough(a, b, c int32) (centre geometry.Vec, radius float64, ok bool) {
	p, q, r := d.m.Vertices[a], d.m.Vertices[b], d.m.Vertices[c]
	first, second := q.Sub(p), r.Sub(q)
	l1, l2 := first.Norm(), second.Norm()
	sin := first.Cross(second).Dot(d.normal) / (l1 * l2)
	if l1 > 1.5*l2 || l2 > 1.5*l1 || sin < 0.017 || sin > 0.41 || first.Dot(second) < 0 {
		return centre, 0, false
	}
	radius = p.Dist(r) / (2 * sin)
	if !fits(2 * radius) {
		return centre, 0, false
	}
	// The centre lies on the bisector of the first side, to the left.
	left := d.normal.Cross(first).Unit()
	return p.Lerp(q, 0.5).AddScaled(left, math.Sqrt(math.Max(0, radius*radius-l1*l1/4))), radius, true
}

// step returns the vertex after at that lies on the circle, onward from before.
func (d *drawing) step(before, at int32, centre geometry.Vec, radius float64) (int32, bool) {
	p := d.m.Vertices[at]
	onward := d.normal.Cross(p.Sub(centre)).Unit()
	best, stray := int32(-1), 0.01*radius
	for _, v := range d.next[at] {
		way := d.m.Vertices[v].Sub(p)
		if v == before || way.Dot(onward) < 0.8*way.Norm() {
			continue
		}
		if off := math.Abs(d.m.Vertices[v].Dist(centre) - radius); off < stray {
			best, stray = v, off
		}
	}
	return best, best >= 0
}

func (d *drawing) side(a, b int32) float64 { return d.m.Vertices[a].Dist(d.m.Vertices[b]) }
