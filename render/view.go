package render

import (
	"math"
	"strings"

	"evenwall/geometry"
)

// view is a direction to look in from inside the tank, in parallel projection.
type view struct {
	toward, right, up geometry.Vec // unit, right-handed with the viewer at -toward
	title             string       // heading: Left side
	side              string       // in a sentence: left side
	looking           string       // to the left
	edge              edgeNames
}

// edgeNames are the words at a view's four edges; top and bottom may be empty.
type edgeNames struct{ left, right, top, bottom string }

// sixViews returns the views of a box's sides in the order left, front, right, rear,
// top, bottom. The four walls stand upright as seen on a walk around inside; top and
// bottom have the front on the right, as if folded off the left side.
func sixViews(s geometry.Sides) [6]view {
	front, left, up := s.Front(), s.Left(), geometry.Vec{Z: 1}
	rear, right := front.Scale(-1), left.Scale(-1)
	wall := func(toward, rightHand geometry.Vec, side string) view {
		v := view{toward: toward, right: rightHand, up: up, side: side, looking: looking(s, toward)}
		v.title = strings.ToUpper(side[:1]) + side[1:]
		v.edge = edgeNames{left: s.Name(rightHand.Scale(-1)), right: s.Name(rightHand)}
		return v
	}
	flat := func(toward, upward geometry.Vec, title string) view {
		v := view{toward: toward, right: front, up: upward, title: title, side: s.Name(toward), looking: looking(s, toward)}
		v.edge = edgeNames{left: "rear", right: "front", top: s.Name(upward), bottom: s.Name(upward.Scale(-1))}
		return v
	}
	return [6]view{
		wall(left, front, "left side"), wall(front, right, "front"),
		wall(right, rear, "right side"), wall(rear, left, "rear"),
		flat(up, right, "Top, looking up"), flat(up.Scale(-1), left, "Bottom, looking down"),
	}
}

// plate maps points of the tank to a flat picture: x to the right, y down, and depth
// away from the viewer. The unit of x and y is that of Scale times metres.
type plate struct {
	right, up, toward geometry.Vec
	origin            geometry.Vec // m, lands at x, y
	x, y              float64
	scale             float64 // picture units per metre
}

// at returns the picture coordinates of p.
func (l *plate) at(p geometry.Vec) point {
	d := p.Sub(l.origin)
	return point{l.x + l.scale*d.Dot(l.right), l.y - l.scale*d.Dot(l.up)}
}

// depth returns how far p lies beyond the origin, away from the viewer, m.
func (l *plate) depth(p geometry.Vec) float64 { return p.Sub(l.origin).Dot(l.toward) }

// back returns the point of the tank at picture coordinates and depth.
func (l *plate) back(q point, depth float64) geometry.Vec {
	p := l.origin.AddScaled(l.right, (q.x-l.x)/l.scale)
	return p.AddScaled(l.up, (l.y-q.y)/l.scale).AddScaled(l.toward, depth)
}

// point is a place on a picture, y down.
type point struct{ x, y float64 }

func (p point) add(q point) point             { return point{p.x + q.x, p.y + q.y} }
func (p point) sub(q point) point             { return point{p.x - q.x, p.y - q.y} }
func (p point) times(s float64) point         { return point{p.x * s, p.y * s} }
func (p point) norm() float64                 { return math.Hypot(p.x, p.y) }
func (p point) lerp(q point, t float64) point { return p.add(q.sub(p).times(t)) }

// unit returns p scaled to length 1, or zero.
func (p point) unit() point {
	if n := p.norm(); n > 0 {
		return p.times(1 / n)
	}
	return point{}
}

// rect is a rectangle on a picture, y down.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) width() float64        { return r.x1 - r.x0 }
func (r rect) height() float64       { return r.y1 - r.y0 }
func (r rect) grow(d float64) rect   { return rect{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }
func (r rect) contains(p point) bool { return p.x >= r.x0 && p.x <= r.x1 && p.y >= r.y0 && p.y <= r.y1 }
func (r rect) overlaps(o rect) bool  { return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1 }
func (r rect) centre() point         { return point{(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2} }
func (r rect) union(o rect) rect {
	return rect{min(r.x0, o.x0), min(r.y0, o.y0), max(r.x1, o.x1), max(r.y1, o.y1)}
}

// fitted returns the largest rectangle of r's proportions at the top of the frame, in its
// middle.
func (r rect) fitted(frame rect) rect {
	scale := min(frame.width()/r.width(), frame.height()/r.height())
	x := frame.centre().x - scale*r.width()/2
	return rect{x, frame.y0, x + scale*r.width(), frame.y0 + scale*r.height()}
}

func around(p point, dx, dy float64) rect { return rect{p.x - dx, p.y - dy, p.x + dx, p.y + dy} }

// extent is the rectangle that faces span on a view, in metres along right and up.
type extent struct{ r0, u0, r1, u1 float64 }

func (e extent) width() float64  { return e.r1 - e.r0 }
func (e extent) height() float64 { return e.u1 - e.u0 }

// corner returns a point of the tank that projects to the extent's upper left.
func (e extent) corner(v view) geometry.Vec {
	return v.right.Scale(e.r0).AddScaled(v.up, e.u1)
}

// spanned returns the extent of the listed faces.
func spanned(m *geometry.Mesh, faces []int32, v view) extent {
	inf := math.Inf(1)
	e := extent{inf, inf, -inf, -inf}
	for _, f := range faces {
		for _, c := range m.Faces[f] {
			r, u := m.Vertices[c].Dot(v.right), m.Vertices[c].Dot(v.up)
			e.r0, e.r1 = min(e.r0, r), max(e.r1, r)
			e.u0, e.u1 = min(e.u0, u), max(e.u1, u)
		}
	}
	return e
}
