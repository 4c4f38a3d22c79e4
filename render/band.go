package render

import (
	"image/color"
	"math"

	"evenwall/render/colormap"
)

// band draws the wall's current density outside the wall; on a sheet, which is wall on
// both sides, within the liquid that it faces. Where the wall turns away from the liquid,
// the wedge between two stretches is filled.
func (d *sectionSheet) band() {
	last := map[point]point{} // at a corner: the edge of the stretch drawn before
	for _, s := range d.wall {
		colour, drawn := d.bandColour(s.face)
		if !drawn {
			continue
		}
		out := s.outward.times(bandWidth)
		if d.scene.Surface.sheet(s.face) {
			out = s.outward.times(-0.7 * bandWidth)
		}
		over := s.b.sub(s.a).unit().times(0.7) // overlaps the next one, against hairlines between
		a, b := s.a.sub(over), s.b.add(over)
		d.fill([]point{a, b, b.add(out), a.add(out)}, colour)
		for _, corner := range []point{s.a, s.b} {
			if before, known := last[corner]; known {
				d.wedge(corner, before, out, colour)
			}
			last[corner] = out
		}
	}
}

// wedge fills the turn between two edges of the band around a corner.
func (d *sectionSheet) wedge(corner, from, to point, colour color.Color) {
	const flat, back = 0.999, -0.5 // cosines between the edges: no wedge, and a sheet's other side
	radius := from.norm()
	if c := (from.x*to.x + from.y*to.y) / (radius * to.norm()); c > flat || c < back {
		return
	}
	arc := []point{corner}
	for k := range 7 {
		arc = append(arc, corner.add(from.lerp(to, float64(k)/6).unit().times(radius)))
	}
	d.fill(arc, colour)
}

func (d *sectionSheet) bandColour(face int) (c color.RGBA, drawn bool) {
	switch d.scene.Surface.state(face) {
	case Wetted:
		return d.bands.at(math.Log10(max(d.scene.Surface.value(face), 1e-300))), true
	case Insulated:
		return colormap.Insulated.Colour(), true
	case NoData:
		return colormap.NoData.Colour(), d.scene.Surface.Value != nil
	default:
		return c, false
	}
}

// steel draws the wall itself; openings stay open.
func (d *sectionSheet) steel() {
	d.walls(d.wall, func(face int) bool { return d.scene.Surface.state(face) == Open })
}

// walls draws stretches as a strong line, but those that are left out.
func (c *canvas) walls(wall []stretch, out func(face int) bool) {
	lines := newJoints[point]()
	for _, s := range wall {
		if !out(s.face) && s.a != s.b {
			lines.join(s.a, s.b)
		}
	}
	for _, way := range lines.ways() {
		c.line(way, pen{width: 4, colour: color.Black})
	}
}
