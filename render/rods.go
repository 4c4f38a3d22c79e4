package render

import (
	"image/color"
	"math"
	"slices"

	"evenwall/geometry"
)

// rodPiece is the outline of one straight stretch of a rod on a picture.
type rodPiece struct {
	hull []point
	bare bool
	ends [2]geometry.Vec // m, of the axis
}

// rodPieces returns the outlines of a rod's stretches, plastic first and bare metal last,
// so that the metal is drawn on top.
func rodPieces(r *geometry.Rod, l *plate) []rodPiece {
	length := r.Length()
	bare := geometry.MergeSpans(r.Bare, length)
	var out []rodPiece
	at := 0.0
	for _, s := range append(slices.Clone(bare), geometry.Span{From: length, To: length}) {
		out = append(out, outlines(r, l, geometry.Span{From: at, To: s.From}, false)...)
		at = s.To
	}
	for _, s := range bare {
		out = append(out, outlines(r, l, s, true)...)
	}
	return out
}

// outlines returns one outline for each straight piece of a stretch.
func outlines(r *geometry.Rod, l *plate, s geometry.Span, bare bool) []rodPiece {
	radius := r.Radius
	if !bare && r.Sleeve > 0 {
		radius = r.Sleeve
	}
	var out []rodPiece
	for i, piece := range r.Pieces(s.From, s.To) {
		round := i == 0 && s.From == 0 && !r.Flat
		points := cylinder(piece, radius, round, l)
		if i > 0 { // and the wedge between it and the one before
			before := out[i-1].ends
			points = append(points, cylinder([2]geometry.Vec{before[1].Lerp(before[0], 1e-3), before[1]}, radius, false, l)...)
		}
		out = append(out, rodPiece{hull(points), bare, piece})
	}
	return out
}

// cylinder returns points of a round bar's outline: circles at both ends, and for a round
// tip the circles of its half sphere.
func cylinder(ends [2]geometry.Vec, radius float64, round bool, l *plate) []point {
	axis := ends[1].Sub(ends[0])
	length := axis.Norm()
	axis = axis.Unit()
	u, v := axis.Perpendicular()
	var out []point
	ring := func(centre geometry.Vec, radius float64) {
		const around = 48
		for k := range around {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / around)
			out = append(out, l.at(centre.AddScaled(u, radius*cos).AddScaled(v, radius*sin)))
		}
	}
	ring(ends[1], radius)
	if !round || length < radius {
		ring(ends[0], radius)
		return out
	}
	const rings = 10
	for k := range rings {
		angle := float64(k) / rings * math.Pi / 2 // 0 at the equator
		ring(ends[0].AddScaled(axis, radius*(1-math.Sin(angle))), radius*math.Cos(angle))
	}
	return append(out, l.at(ends[0]))
}

// rim returns the outline of an opening on a picture.
func (o *Opening) rim(l *plate) []point {
	const thickness = 1e-6 // m
	disc := [2]geometry.Vec{o.Centre, o.Centre.AddScaled(o.Axis.Unit(), thickness)}
	return hull(cylinder(disc, o.Diameter/2, false, l))
}

// hull returns the convex outline of the points, by Andrew (1979), monotone chains.
func hull(points []point) []point {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(p, q point) int {
		if p.x != q.x {
			return compare(p.x, q.x)
		}
		return compare(p.y, q.y)
	})
	chain := func(points []point) []point {
		var out []point
		for _, p := range points {
			for len(out) >= 2 && turnOf(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	lower := chain(sorted)
	slices.Reverse(sorted)
	return append(lower, chain(sorted)...)
}

// turnOf is above 0 when the way from p over q to r turns from x towards y.
func turnOf(p, q, r point) float64 { return (q.x-p.x)*(r.y-q.y) - (q.y-p.y)*(r.x-q.x) }

// solidRod draws a rod filled within the frame: bare metal dark, plastic white.
func (c *canvas) solidRod(r *geometry.Rod, l *plate, frame rect) {
	for _, s := range shapesOf(rodPieces(r, l), frame) {
		for _, outline := range s.fill {
			if s.bare {
				c.fill(outline, metal)
			} else {
				c.fill(outline, color.White)
			}
		}
		c.edge(&s, pen{width: 2.5, colour: color.Black})
	}
	for _, f := range fittings(r, l) {
		if outline := clip(f, frame); len(outline) > 2 {
			c.loop(outline, fittingPen())
		}
	}
}

// edge draws a shape's edge.
func (c *canvas) edge(s *rodShape, p pen) {
	for _, line := range s.edge {
		if s.closed {
			c.loop(line, p)
		} else {
			c.line(line, p)
		}
	}
}

// fittingPen is that of spacers, collar and guard: outlines, that hide no metal.
func fittingPen() pen { return pen{width: 2.5, colour: color.RGBA{90, 90, 90, 255}, dash: 5} }

// fitted reports whether any of the rods has a spacer, a collar or a guard.
func fitted(rods []geometry.Rod) bool {
	return slices.ContainsFunc(rods, func(r geometry.Rod) bool {
		return len(r.Spacers) > 0 || r.Collar.Radius > 0 || r.Guard.Outside > 0
	})
}

// fittings returns the outlines of what is on a rod.
func fittings(r *geometry.Rod, l *plate) [][]point {
	const collarThick = 0.003 // m, as drawn
	var out [][]point
	add := func(from, to, radius float64) {
		for _, piece := range r.Pieces(max(0, from), min(to, r.Length())) {
			out = append(out, hull(cylinder(piece, radius, false, l)))
		}
	}
	for _, s := range r.Spacers {
		add(s.At-s.Thick/2, s.At+s.Thick/2, s.Radius)
	}
	if r.Collar.Radius > 0 {
		add(r.Collar.At, r.Collar.At+collarThick, r.Collar.Radius)
	}
	if r.Guard.Outside > 0 {
		add(0, r.Length(), r.Guard.Outside)
	}
	return out
}
