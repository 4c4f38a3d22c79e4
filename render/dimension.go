package render

import (
	"image/color"
	"math"
)

// dimension draws the distance between two places as a measure, with arrows that touch
// both where there is room, and as a plain line where there is not.
func (c *canvas) dimension(a, b point, width float64) {
	const head, room, off = 18.0, 54.0, 5.0 // layout units
	way := b.sub(a)
	if way.norm() < room {
		c.line([]point{a, b}, pen{width: width, colour: color.Black})
		return
	}
	along := way.unit()
	c.line([]point{a.add(along.times(off)), b.sub(along.times(off))}, pen{width: width + 4, colour: color.White})
	c.line([]point{a.add(along.times(off)), b.sub(along.times(off))}, pen{width: width, colour: color.Black})
	c.arrow(a, along.times(-head))
	c.arrow(b, along.times(head))
}

// ring draws a circle around the stretch between two places, to find it.
func (c *canvas) ring(a, b point) {
	const least, room = 20.0, 12.0 // layout units
	radius := max(least, b.sub(a).norm()/2+room)
	var circle []point
	for k := range 48 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 48)
		circle = append(circle, a.lerp(b, 0.5).add(point{cos, sin}.times(radius)))
	}
	c.outlined(circle, pen{width: 3, colour: color.Black})
}

// arrow draws a head with its point at a place; way is from its foot to the point.
func (c *canvas) arrow(at point, way point) {
	foot := at.sub(way)
	half := point{-way.y, way.x}.times(0.38)
	c.fill([]point{at, foot.add(half), foot.sub(half)}, color.Black)
}
