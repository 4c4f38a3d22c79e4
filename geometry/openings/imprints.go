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
	number := make([]int32, len(m.Vertices))
	for id, sides := range insideEdges(edges, flat) {
		if reg := flat.list[id]; reg.area > math.Pi/4*sq(leastDiameter) && len(sides) > imprintLeast {
			out = append(out, withoutConcentric(newDrawing(m, reg.normal, sides, number).circles())...)
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

// drawing is the net of edges inside a flat wall. Its corners have numbers of their own.
type drawing struct {
	normal geometry.Vec
	points []geometry.Vec
	first  []int32 // the corners that corner k is joined to are next[first[k]:first[k+1]]
	next   []int32
	taken  []bool // by place in next: the side, that way, is of a circle already found
}

// newDrawing draws edges of m. number is of as many entries as m has vertices, all 0, and is left so.
func newDrawing(m *geometry.Mesh, normal geometry.Vec, edges []topology.Edge, number []int32) *drawing {
	d := &drawing{normal: normal}
	var corners []int32
	for _, e := range edges {
		for _, v := range [2]int32{e.A, e.B} {
			if number[v] == 0 {
				number[v] = 1
				corners = append(corners, v)
			}
		}
	}
	slices.Sort(corners)
	for i, v := range corners {
		number[v] = int32(i)
		d.points = append(d.points, m.Vertices[v])
	}
	d.join(edges, number)
	for _, v := range corners {
		number[v] = 0
	}
	return d
}

// join lists the corners that each is joined to, in the order of the edges.
func (d *drawing) join(edges []topology.Edge, number []int32) {
	d.first = make([]int32, len(d.points)+1)
	for _, e := range edges {
		d.first[number[e.A]+1]++
		d.first[number[e.B]+1]++
	}
	for k := range d.points {
		d.first[k+1] += d.first[k]
	}
	d.next, d.taken = make([]int32, 2*len(edges)), make([]bool, 2*len(edges))
	place := slices.Clone(d.first)
	for _, e := range edges {
		a, b := number[e.A], number[e.B]
		d.next[place[a]], d.next[place[b]] = b, a
		place[a]++
		place[b]++
	}
}

// from returns the corners that a corner is joined to.
func (d *drawing) from(k int32) []int32 { return d.next[d.first[k]:d.first[k+1]] }

// circles follows every pair of sides that turns a little to the left round the circle
// that it begins.
func (d *drawing) circles() []Ring {
	var out []Ring
	for a := range int32(len(d.points)) {
		for side := d.first[a]; side < d.first[a+1]; side++ {
			b := d.next[side]
			for _, c := range d.from(b) {
				if d.taken[side] {
					break
				}
				if c == a {
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

// take marks the side from a to b, both ways.
func (d *drawing) take(a, b int32) {
	for _, way := range [2][2]int32{{a, b}, {b, a}} {
		for side := d.first[way[0]]; side < d.first[way[0]+1]; side++ {
			if d.next[side] == way[1] {
				d.taken[side] = true
			}
		}
	}
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
	fit, ok := fitCircle(d.pick(path))
	if !ok || !fit.isRound(imprintStray) {
		return Ring{}, false
	}
	for i, v := range path {
		d.take(v, path[(i+1)%len(path)])
	}
	return Ring{Imprint, fit.centre, d.normal, 2 * fit.radius, fit.rms, len(path)}, true
}

// circleThrough returns the circle through three joined vertices if it turns left by 1
// to 24 degrees on sides of about one length, and has an opening's size.
func (d *drawing) circleThrough(a, b, c int32) (centre geometry.Vec, radius float64, ok bool) {
	p, q, r := d.points[a], d.points[b], d.points[c]
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
	p := d.points[at]
	onward := d.normal.Cross(p.Sub(centre)).Unit()
	best, stray := int32(-1), 0.01*radius
	for _, v := range d.from(at) {
		way := d.points[v].Sub(p)
		if v == before || way.Dot(onward) < 0.8*way.Norm() {
			continue
		}
		if off := math.Abs(d.points[v].Dist(centre) - radius); off < stray {
			best, stray = v, off
		}
	}
	return best, best >= 0
}

func (d *drawing) side(a, b int32) float64 { return d.points[a].Dist(d.points[b]) }

func (d *drawing) pick(path []int32) []geometry.Vec {
	out := make([]geometry.Vec, len(path))
	for i, k := range path {
		out[i] = d.points[k]
	}
	return out
}
