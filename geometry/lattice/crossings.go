package lattice

import (
	"math"
	"slices"

	"evenwall/geometry"
)

// Crossing is a point where a lattice line passes through a facet.
type Crossing struct {
	At   float64 // along the line in lattice units: cell centres are whole numbers
	Face int32   // facet of the mesh
	Out  bool    // the facet faces the line's high end, so that the line leaves there
}

// Lines holds all crossings of the lattice lines along one axis, sorted along each
// line. Line (p, q) runs through the cells whose other two coordinates, in the cyclic
// order after Axis, are p and q.
type Lines struct {
	Axis   int
	first  []int32 // crossings of line l are at[first[l]:first[l+1]]
	at     []Crossing
	counts [2]int // lines along the two other axes
}

// Line returns the crossings of the line (p, q), nearest the low end first.
func (l *Lines) Line(p, q int) []Crossing {
	n := q*l.counts[0] + p
	return l.at[l.first[n]:l.first[n+1]]
}

// between returns the crossings with whole ≤ At < whole+1.
func between(line []Crossing, whole int) []Crossing {
	lo := 0
	for lo < len(line) && line[lo].At < float64(whole) {
		lo++
	}
	hi := lo
	for hi < len(line) && line[hi].At < float64(whole+1) {
		hi++
	}
	return line[lo:hi]
}

// hit is a crossing with the number of its line, while they are being collected.
type hit struct {
	line int32
	Crossing
}

// cross finds where the lattice lines along axis pass through the mesh. sub lines a
// side stand for each cell (1: through the centre; more: an even spread over the cell's
// face, for covers). Lines through a shared edge or corner hit exactly one of the facets
// that meet there, as long as those share vertices.
func cross(l *Lattice, mesh *geometry.Mesh, axis, sub int) Lines {
	a, b := (axis+1)%3, (axis+2)%3
	lines := Lines{Axis: axis, counts: [2]int{l.N[a] * sub, l.N[b] * sub}}
	corners := make([]geometry.Vec, len(mesh.Vertices))
	for i, v := range mesh.Vertices {
		u := l.At(v)
		corners[i] = geometry.Vec{X: fine(u.Axis(a), sub), Y: fine(u.Axis(b), sub), Z: u.Axis(axis)}
	}
	hits := make([]hit, 0, len(mesh.Faces)/4)
	for f, face := range mesh.Faces {
		hits = project(hits, corners, face, int32(f), lines.counts)
	}
	lines.sort(hits)
	return lines
}

// fine converts a lattice coordinate to the numbering of sub lines a cell.
func fine(u float64, sub int) float64 { return (u+0.5)*float64(sub) - 0.5 }

// project appends the hits of one facet, seen along the lines: X, Y of a corner are the
// line's numbers, Z is along the line.
func project(hits []hit, corners []geometry.Vec, face [3]int32, number int32, counts [2]int) []hit {
	p, q, r := corners[face[0]], corners[face[1]], corners[face[2]]
	twice := (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X)
	if twice == 0 {
		return hits
	}
	out := twice > 0
	if !out {
		q, r, twice = r, q, -twice
	}
	x0, x1 := span(p.X, q.X, r.X, counts[0])
	y0, y1 := span(p.Y, q.Y, r.Y, counts[1])
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			wp, inP := edge(q, r, float64(x), float64(y))
			wq, inQ := edge(r, p, float64(x), float64(y))
			wr, inR := edge(p, q, float64(x), float64(y))
			if inP && inQ && inR {
				z := (wp*p.Z + wq*q.Z + wr*r.Z) / (wp + wq + wr)
				hits = append(hits, hit{int32(y*counts[0] + x), Crossing{z, number, out}})
			}
		}
	}
	return hits
}

// span returns the whole numbers that lie within the range of three coordinates and of
// the lines there are.
func span(a, b, c float64, count int) (lo, hi int) {
	low, high := math.Min(a, math.Min(b, c)), math.Max(a, math.Max(b, c))
	return int(math.Max(0, math.Ceil(low))), int(math.Min(float64(count-1), math.Floor(high)))
}

// edge returns twice the area that point (x, y) spans with the directed edge a→b, and
// whether the point counts as inside: left of the edge, or on it when the edge runs
// upward or, level, leftward. The area is formed from the lower-sorted end, so that the
// two facets of a shared edge get exactly opposite values and one of them the point.
func edge(a, b geometry.Vec, x, y float64) (float64, bool) {
	swapped := b.X < a.X || (b.X == a.X && b.Y < a.Y)
	c, d := a, b
	if swapped {
		c, d = b, a
	}
	w := float64((d.X-c.X)*(y-c.Y)) - float64((d.Y-c.Y)*(x-c.X))
	if swapped {
		w = -w
	}
	return w, w > 0 || (w == 0 && (b.Y > a.Y || (b.Y == a.Y && b.X < a.X)))
}

// sort files the hits by line and orders each line.
func (l *Lines) sort(hits []hit) {
	l.first = make([]int32, l.counts[0]*l.counts[1]+1)
	for _, h := range hits {
		l.first[h.line+1]++
	}
	for i := 1; i < len(l.first); i++ {
		l.first[i] += l.first[i-1]
	}
	next := slices.Clone(l.first)
	l.at = make([]Crossing, len(hits))
	for _, h := range hits {
		l.at[next[h.line]] = h.Crossing
		next[h.line]++
	}
	for n := 0; n+1 < len(l.first); n++ {
		line := l.at[l.first[n]:l.first[n+1]]
		slices.SortFunc(line, func(a, b Crossing) int {
			switch {
			case a.At < b.At:
				return -1
			case a.At > b.At:
				return 1
			default:
				return int(a.Face - b.Face)
			}
		})
	}
}
