package render

import (
	"fmt"
	"image"
	"math"
	"slices"

	"evenwall/geometry"
)

// Cut is a flat section through the tank, seen from the side that U × V points to.
type Cut struct {
	Origin geometry.Vec // m, a point of the plane
	U, V   geometry.Vec // unit, perpendicular: to the right and up on the picture
}

// CutThrough returns the upright section that holds a rod and an opening: it contains the
// rod's axis from the tip on, and where that is plumb to within a millimetre it turns about
// the tip towards the opening's middle. It is seen with the front on the right, or, square
// to that, with the tank's right side there.
func CutThrough(r *geometry.Rod, o Opening, s geometry.Sides) Cut {
	front, up := s.Front(), geometry.Vec{Z: 1}
	tip := r.Path[0]
	along := level(r.Path[len(r.Path)-1].Sub(tip))
	if along.Norm() < 1e-3 {
		along = level(o.Centre.Sub(tip))
	}
	if along.Norm() < 1e-3 {
		along = level(front)
	}
	u := along.Unit()
	side := u.Dot(front)
	if math.Abs(side) < 1e-9 {
		side = u.Dot(front.Cross(up))
	}
	if side < 0 {
		u = u.Scale(-1)
	}
	return Cut{Origin: tip, U: u, V: up}
}

// level returns v without its upward part.
func level(v geometry.Vec) geometry.Vec { return v.WithAxis(2, 0) }

// check reports a cut that is no plane.
func (c *Cut) check() error {
	const slack = 1e-6
	if math.Abs(c.U.Norm()-1) > slack || math.Abs(c.V.Norm()-1) > slack || math.Abs(c.U.Dot(c.V)) > slack {
		return fmt.Errorf("section along %v and %v: the two directions must be perpendicular and of length 1", c.U, c.V)
	}
	return nil
}

// toward is the direction away from the viewer.
func (c *Cut) toward() geometry.Vec { return c.V.Cross(c.U) }

// stretch is a piece of wall in a section, on the picture or in metres along U and V.
type stretch struct {
	a, b    point
	face    int
	outward point // unit, across the wall and out of the liquid
}

// outline cuts the surface with the plane: one stretch for each facet that crosses it, in
// metres along U and V from the origin, v up. A corner exactly in the plane counts as
// lying on the near side, so that every crossing is found once.
func (c *Cut) outline(m *geometry.Mesh) []stretch {
	away := c.toward()
	height := make([]float64, len(m.Vertices))
	for i, v := range m.Vertices {
		height[i] = v.Sub(c.Origin).Dot(away)
	}
	var out []stretch
	for i, f := range m.Faces {
		var ends []point
		for k := range 3 {
			a, b := f[k], f[(k+1)%3]
			if (height[a] > 0) == (height[b] > 0) {
				continue
			}
			if a > b { // both facets at the edge find the same point to the last bit
				a, b = b, a
			}
			ends = append(ends, c.flat(m.Vertices[a].Lerp(m.Vertices[b], height[a]/(height[a]-height[b]))))
		}
		if len(ends) == 2 {
			n := m.Triangle(i).Normal()
			out = append(out, stretch{ends[0], ends[1], i, point{n.Dot(c.U), n.Dot(c.V)}.unit()})
		}
	}
	return out
}

// flat returns a point's metres along U and V from the origin.
func (c *Cut) flat(p geometry.Vec) point {
	d := p.Sub(c.Origin)
	return point{d.Dot(c.U), d.Dot(c.V)}
}

// plate returns the map from the tank to a picture on which the extent fills the frame,
// as large as it goes and centred.
func (c *Cut) plate(e rect, frame rect) *plate {
	scale := min(frame.width()/e.width(), frame.height()/e.height())
	middle, centre := e.centre(), frame.centre()
	return &plate{right: c.U, up: c.V, toward: c.toward(), origin: c.Origin, scale: scale,
		x: centre.x - scale*middle.x, y: centre.y + scale*middle.y}
}

// onto maps metres along U and V to the picture.
func (l *plate) onto(p point) point { return point{l.x + l.scale*p.x, l.y - l.scale*p.y} }

// onPicture moves stretches to the picture, where v points down.
func onPicture(wall []stretch, l *plate) []stretch {
	out := slices.Clone(wall)
	for i, s := range wall {
		out[i].a, out[i].b = l.onto(s.a), l.onto(s.b)
		out[i].outward.y = -s.outward.y
	}
	return out
}

// bounds returns the rectangle around the stretches.
func bounds(wall []stretch) rect {
	inf := math.Inf(1)
	r := rect{inf, inf, -inf, -inf}
	for _, s := range wall {
		for _, p := range []point{s.a, s.b} {
			r.x0, r.y0, r.x1, r.y1 = min(r.x0, p.x), min(r.y0, p.y), max(r.x1, p.x), max(r.y1, p.y)
		}
	}
	return r
}

// ruling is a set of n parallel lines at start, start+step, ...
type ruling struct {
	n           int
	start, step float64
}

// crossings returns, sorted, where the wall crosses each line: level lines by their y, or
// with across plumb lines by their x.
func (r ruling) crossings(wall []stretch, across bool) [][]float64 {
	out := make([][]float64, r.n)
	for _, s := range wall {
		a, b := s.a, s.b
		if across {
			a, b = point{a.y, a.x}, point{b.y, b.x}
		}
		if a.y > b.y {
			a, b = b, a
		}
		for k := max(0, int(math.Ceil((a.y-r.start)/r.step))); k < r.n; k++ {
			y := r.start + float64(k)*r.step
			if y >= b.y {
				break
			}
			out[k] = append(out[k], a.x+(b.x-a.x)*(y-a.y)/(b.y-a.y))
		}
	}
	for k := range out {
		slices.Sort(out[k])
	}
	return out
}

// mask tells for each pixel of a frame whether its middle is enclosed by the wall.
type mask struct {
	w, h   int
	corner point   // layout units
	pixel  float64 // side of a pixel, layout units
	inside []bool  // pixel x, y at y·w + x
}

// newMask fills the mask for a frame in pixels. A row that meets the wall an odd number of
// times, as at an open filler, is decided by the columns instead.
func newMask(wall []stretch, frame image.Rectangle, unit float64) mask {
	m := mask{w: frame.Dx(), h: frame.Dy(), pixel: 1 / unit,
		corner: point{float64(frame.Min.X) / unit, float64(frame.Min.Y) / unit}}
	first := m.middle(0, 0)
	rows := ruling{m.h, first.y, m.pixel}.crossings(wall, false)
	columns := ruling{m.w, first.x, m.pixel}.crossings(wall, true)
	m.inside = make([]bool, m.w*m.h)
	for y := range m.h {
		for x := range m.w {
			p := m.middle(x, y)
			if len(rows[y])%2 == 0 {
				m.inside[y*m.w+x] = odd(rows[y], p.x)
			} else {
				m.inside[y*m.w+x] = odd(columns[x], p.y)
			}
		}
	}
	return m
}

// middle returns the middle of a pixel, layout units.
func (m *mask) middle(x, y int) point {
	return point{m.corner.x + (float64(x)+0.5)*m.pixel, m.corner.y + (float64(y)+0.5)*m.pixel}
}

// has reports whether a place lies on an enclosed pixel.
func (m *mask) has(p point) bool {
	x, y := int(math.Floor((p.x-m.corner.x)/m.pixel)), int(math.Floor((p.y-m.corner.y)/m.pixel))
	return x >= 0 && y >= 0 && x < m.w && y < m.h && m.inside[y*m.w+x]
}

// odd reports whether an odd number of the sorted values lie below v.
func odd(sorted []float64, v float64) bool {
	n, _ := slices.BinarySearch(sorted, v)
	return n%2 == 1
}
