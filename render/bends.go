package render

import "math"

// rodShape is a rod's stretch as it is drawn: where it is filled, and its edge.
type rodShape struct {
	bare   bool
	fill   [][]point
	edge   [][]point
	closed bool // the edge is one closed line
}

// shapesOf joins pieces that follow each other round a bend to shapes within a frame: inside a shape no
// edge of a piece is drawn.
func shapesOf(pieces []rodPiece, frame rect) []rodShape {
	var out []rodShape
	for from := 0; from < len(pieces); {
		to := from + 1
		for to < len(pieces) && pieces[to].bare == pieces[from].bare && pieces[to].ends[0].Dist(pieces[to-1].ends[1]) < 1e-6 {
			to++
		}
		s := rodShape{bare: pieces[from].bare, closed: to == from+1}
		for _, p := range pieces[from:to] {
			if outline := clip(p.hull, frame); len(outline) >= 3 {
				s.fill = append(s.fill, outline)
			}
		}
		from = to
		if len(s.fill) == 0 {
			continue
		}
		if s.edge = s.fill; !s.closed {
			s.edge = outerEdges(s.fill)
		}
		out = append(out, s)
	}
	return out
}

// How finely edges are looked at, how far out of an edge another piece must be for it to be drawn, how
// near to each other two edges are one, and what gap between two is closed, pixels.
const (
	edgeStep = 1.5
	edgeOut  = 2.5
	edgeOne  = 1.2
	edgeGap  = 5.0
)

// outerEdges returns what of some convex outlines lies in none of the others, in lines joined end to
// end.
func outerEdges(hulls [][]point) [][]point {
	var lines [][]point
	for i, h := range hulls {
		var line []point
		end := func() {
			if len(line) > 1 {
				lines = joinLine(lines, line)
			}
			line = nil
		}
		way := wayOf(h)
		for k, p := range h {
			q := h[(k+1)%len(h)]
			n := math.Max(1, math.Ceil(q.sub(p).norm()/edgeStep))
			d := q.sub(p)
			out := point{d.y, -d.x}.unit().times(way * edgeOut)
			for m := range int(n) {
				at := p.lerp(q, (float64(m)+0.5)/n)
				if inOthers(hulls, i, at, at.add(out)) {
					end()
					continue
				}
				line = append(line, at)
			}
		}
		end()
	}
	for { // until no two lines meet any more
		merged := lines[:0:0]
		for _, l := range lines {
			merged = joinLine(merged, l)
		}
		if len(merged) == len(lines) {
			return merged
		}
		lines = merged
	}
}

// joinLine adds a line to others, at the end of one that it meets where there is one.
func joinLine(lines [][]point, line []point) [][]point {
	for i, l := range lines {
		first, last := l[0], l[len(l)-1]
		a, b := line[0], line[len(line)-1]
		switch {
		case a.sub(last).norm() < edgeGap:
			lines[i] = append(l, line...)
		case b.sub(last).norm() < edgeGap:
			lines[i] = append(l, reversed(line)...)
		case b.sub(first).norm() < edgeGap:
			lines[i] = append(append([]point(nil), line...), l...)
		case a.sub(first).norm() < edgeGap:
			lines[i] = append(reversed(line), l...)
		default:
			continue
		}
		return lines
	}
	return append(lines, line)
}

func reversed(line []point) []point {
	out := make([]point, len(line))
	for i, p := range line {
		out[len(line)-1-i] = p
	}
	return out
}

// inOthers reports whether a point of an edge is none of the whole shape: another outline goes on beyond
// it, or has it as an edge of its own and comes before.
func inOthers(hulls [][]point, but int, p, beyond point) bool {
	for i, h := range hulls {
		if i != but && (holdsNearly(h, beyond, edgeOne) || i < but && holdsNearly(h, p, edgeOne)) {
			return true
		}
	}
	return false
}

// wayOf returns 1 or -1 by the way that an outline goes round.
func wayOf(h []point) float64 {
	way := 0.0
	for k := range h {
		way += turnOf(h[0], h[k], h[(k+1)%len(h)])
	}
	return math.Copysign(1, way)
}

// holdsNearly reports whether a point is in a convex outline drawn out by so much.
func holdsNearly(h []point, p point, by float64) bool {
	way := wayOf(h)
	for k, a := range h {
		b := h[(k+1)%len(h)]
		if length := b.sub(a).norm(); length > 1e-9 && way*turnOf(a, b, p)/length < -by {
			return false
		}
	}
	return true
}
