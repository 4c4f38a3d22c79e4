package render

import (
	"math"
	"slices"

	"evenwall/geometry"
)

// nothing marks a pixel that no face covers.
const nothing = int32(-1)

// buffer holds, for each pixel, the face farthest from the viewer: from inside, the
// outer wall stays in sight and what stands in front of it goes to a picture of its own.
// Pixel x, y is at index y·w + x, its centre at x+0.5, y+0.5.
type buffer struct {
	w, h    int
	face    []int32   // index of the face, or nothing
	depth   []float32 // m, away from the viewer
	value   []float32 // interpolated between the face's corners
	covered []int32   // pixels that each face would cover alone; nil: not counted
}

// newBuffer returns an empty buffer.
func newBuffer(w, h int) *buffer {
	b := &buffer{w: w, h: h, face: make([]int32, w*h), depth: make([]float32, w*h), value: make([]float32, w*h)}
	for i := range b.face {
		b.face[i] = nothing
	}
	return b
}

// corner is a face's corner on the picture.
type corner struct{ x, y, depth, value float64 }

// paint draws faces through the plate. values has one figure a corner, or is nil.
func (b *buffer) paint(m *geometry.Mesh, faces []int32, l *plate, values [][3]float32) {
	for _, f := range faces {
		var c [3]corner
		for k, v := range m.Faces[f] {
			p := l.at(m.Vertices[v])
			c[k] = corner{x: p.x, y: p.y, depth: l.depth(m.Vertices[v])}
			if values != nil {
				c[k].value = float64(values[f][k])
			}
		}
		b.triangle(f, c)
	}
}

// triangle fills the pixels whose centres lie in the triangle, row by row. Edges are
// walked from their upper end, so that two faces that share one leave no gap and no pixel
// twice.
func (b *buffer) triangle(face int32, c [3]corner) {
	slope := planeOf(c)
	slices.SortFunc(c[:], func(p, q corner) int {
		if p.y != q.y {
			return compare(p.y, q.y)
		}
		return compare(p.x, q.x)
	})
	first := max(0, int(math.Ceil(c[0].y-0.5)))
	last := min(b.h-1, int(math.Ceil(c[2].y-0.5))-1)
	for y := first; y <= last; y++ {
		at := float64(y) + 0.5
		long := crossing(c[0], c[2], at)
		short := crossing(c[0], c[1], at)
		if at >= c[1].y {
			short = crossing(c[1], c[2], at)
		}
		from, to := min(long, short), max(long, short)
		b.row(face, y, max(0, int(math.Ceil(from-0.5))), min(b.w-1, int(math.Ceil(to-0.5))-1), slope)
	}
}

func compare(a, b float64) int {
	if a < b {
		return -1
	}
	if a > b {
		return 1
	}
	return 0
}

// crossing returns where the edge from p down to q crosses the row at y.
func crossing(p, q corner, y float64) float64 {
	if q.y == p.y {
		return q.x
	}
	return p.x + (q.x-p.x)*(y-p.y)/(q.y-p.y)
}

// row keeps the face on pixels from..to of row y where it is the farthest so far.
func (b *buffer) row(face int32, y, from, to int, s slope) {
	if b.covered != nil && to >= from {
		b.covered[face] += int32(to - from + 1)
	}
	depth, value := s.start(float64(from)+0.5, float64(y)+0.5)
	for i := y*b.w + from; i <= y*b.w+to; i++ {
		if d := float32(depth); b.face[i] == nothing || d > b.depth[i] {
			b.face[i], b.depth[i], b.value[i] = face, d, float32(value)
		}
		depth += s.depthX
		value += s.valueX
	}
}

// slope is a face's depth and value as linear functions of the pixel.
type slope struct {
	origin                         corner
	depthX, depthY, valueX, valueY float64
}

// planeOf returns the linear functions through the three corners; a face seen edge-on
// keeps its first corner's.
func planeOf(c [3]corner) slope {
	s := slope{origin: c[0]}
	ax, ay := c[1].x-c[0].x, c[1].y-c[0].y
	bx, by := c[2].x-c[0].x, c[2].y-c[0].y
	det := ax*by - ay*bx
	if det == 0 {
		return s
	}
	ad, bd := c[1].depth-c[0].depth, c[2].depth-c[0].depth
	av, bv := c[1].value-c[0].value, c[2].value-c[0].value
	s.depthX, s.depthY = (ad*by-bd*ay)/det, (bd*ax-ad*bx)/det
	s.valueX, s.valueY = (av*by-bv*ay)/det, (bv*ax-av*bx)/det
	return s
}

func (s *slope) start(x, y float64) (depth, value float64) {
	dx, dy := x-s.origin.x, y-s.origin.y
	return s.origin.depth + dx*s.depthX + dy*s.depthY, s.origin.value + dx*s.valueX + dy*s.valueY
}

// hides reports whether the picture's faces lie nearer to the viewer than any of the
// stretch between two points of the tank.
func (b *buffer) hides(ends [2]geometry.Vec, l *plate) bool {
	const steps = 16
	for k := range steps + 1 {
		p := ends[0].Lerp(ends[1], float64(k)/steps)
		q := l.at(p)
		x, y := int(q.x), int(q.y)
		if q.x < 0 || q.y < 0 || x >= b.w || y >= b.h {
			continue
		}
		if i := y*b.w + x; b.face[i] != nothing && float64(b.depth[i]) < l.depth(p) {
			return true
		}
	}
	return false
}
