package render

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"evenwall/render/colormap"
)

// swatch is an entry of the key: a small picture and its words.
type swatch struct {
	width float64 // of the small picture, layout units
	draw  func(c *canvas, r rect)
	words string
}

// swatchHeight is that of a key entry's small picture, layout units.
const swatchHeight = 30.0

// header writes the title, what the picture shows, and the warnings; it returns the y
// below.
func (c *canvas) header(title, subject string, warnings []string) float64 {
	y := margin - 10
	width := sheetWidth - 2*margin
	y = c.paragraph(title, point{margin, y}, width, style{size: large, bold: true})
	y = c.paragraph(subject, point{margin, y}, width, style{size: body})
	for _, w := range warnings {
		y = c.warning(w, y+8)
	}
	return y + 12
}

// warning writes a boxed line that cannot be overlooked.
func (c *canvas) warning(text string, y float64) float64 {
	s := style{size: body, bold: true}
	bottom := c.paragraph(text, point{margin + 16, y + 10}, sheetWidth-2*margin-32, s)
	c.rectangle(rect{margin, y, sheetWidth - margin, bottom + 4}, pen{width: 4, colour: color.Black})
	return bottom + 8
}

// colourBar draws the scale of current density with its unit, its ends and the range of
// the wall in the picture; it returns the y below.
func (c *canvas) colourBar(b bands, s *Surface, least float64, y float64) float64 {
	low, high, ok := s.wettedRange()
	return c.bar(b, "Current density of the wall, A/m²", ranged(low, high, ok, "A/m²"), least, y)
}

// ranged says what the wall in a picture gets.
func ranged(low, high float64, ok bool, unit string) string {
	if !ok {
		return ""
	}
	return fmt.Sprintf("here %s to %s %s", figure(low), figure(high), unit)
}

// bar draws a scale below its title and the range in the picture, with a mark at the least
// figure that counts, 0 for none; it returns the y below.
func (c *canvas) bar(b bands, title, here string, least, y float64) float64 {
	c.text(title, point{margin, y}, anchor{}, style{size: heading, bold: true})
	c.text(here, point{sheetWidth - margin, y}, anchor{x: 1}, style{size: body})
	y += 40
	const cap, gap, height = 78.0, 8.0, 44.0
	bar := rect{margin + cap + gap, y, sheetWidth - margin - cap - gap, y + height}
	first, last := b.logs[0], b.logs[len(b.logs)-1]
	x := func(log float64) float64 { return bar.x0 + bar.width()*(log-first)/(last-first) }
	if log := math.Log10(least); least > 0 && log > first && log < last {
		bar = c.leastMarker(bar, x(log), least)
	}
	for i, colour := range b.colour {
		c.block(rect{x(b.logs[i]), bar.y0, x(b.logs[i+1]), bar.y1}, colour)
	}
	c.rectangle(bar, pen{width: 1.5, colour: color.Black})
	c.barEnd(rect{margin, bar.y0, margin + cap, bar.y1}, b.under, "less", color.White)
	c.barEnd(rect{sheetWidth - margin - cap, bar.y0, sheetWidth - margin, bar.y1}, b.over, "more", color.Black)
	c.barTicks(b, bar, x)
	return bar.y1 + 46
}

// leastMarker points at the least current density that counts and returns the bar moved
// down to make room.
func (c *canvas) leastMarker(bar rect, x, least float64) rect {
	words := fmt.Sprintf("below %s A/m² a patch hardly changes", figure(least))
	s := style{size: small}
	a := anchor{x: 1}
	at := point{x - 16, bar.y0 - 2}
	if c.width(words, s) > x-margin-20 {
		a, at = anchor{}, point{x + 16, bar.y0 - 2}
	}
	c.text(words, at, a, s)
	bar.y0, bar.y1 = bar.y0+28, bar.y1+28
	c.fill([]point{{x, bar.y0 - 2}, {x - 10, bar.y0 - 20}, {x + 10, bar.y0 - 20}}, color.Black)
	c.line([]point{{x, bar.y0 - 4}, {x, bar.y1 + 6}}, pen{width: 3, colour: color.Black})
	return bar
}

func (c *canvas) barEnd(r rect, colour color.RGBA, word string, ink color.Color) {
	c.block(r, colour)
	c.rectangle(r, pen{width: 1.5, colour: color.Black})
	c.text(word, point{r.centre().x, r.centre().y + 2}, anchor{0.5, 0.5}, style{size: body, colour: ink})
}

// barTicks labels the edges of the steps, leaving out what would run together.
func (c *canvas) barTicks(b bands, bar rect, x func(float64) float64) {
	s := style{size: body}
	right := 0.0
	for i, edge := range b.edges {
		at := point{x(b.logs[i]), bar.y1 + 12}
		label := figure(edge)
		box := c.box(label, at, anchor{x: 0.5}, s)
		if box.x0 < right {
			continue
		}
		right = box.x1 + 10
		c.line([]point{{at.x, bar.y1}, {at.x, bar.y1 + 9}}, pen{width: 2, colour: color.Black})
		c.text(label, at, anchor{x: 0.5}, s)
	}
}

// key sets out the swatches in rows and returns the y below.
func (c *canvas) key(entries []swatch, y float64) float64 {
	const between, gap = 34.0, 12.0
	s := style{size: body}
	x := margin
	for i, e := range entries {
		width := e.width + gap + c.width(e.words, s)
		if i > 0 && x+width > sheetWidth-margin {
			x, y = margin, y+swatchHeight+14
		}
		e.draw(c, rect{x, y, x + e.width, y + swatchHeight})
		c.text(e.words, point{x + e.width + gap, y + swatchHeight/2}, anchor{0, 0.5}, s)
		x += width + between
	}
	if len(entries) == 0 {
		return y
	}
	return y + swatchHeight + 14
}

// sampled returns a swatch filled by a function of the sample's place, with an edge.
func (p *wallPaint) sampled(words string, at func(x, y int) color.RGBA) swatch {
	return swatch{width: 52, words: words, draw: func(c *canvas, r rect) {
		px := c.pixels(r)
		m := image.NewRGBA(image.Rect(0, 0, px.Dx(), px.Dy()))
		for y := range px.Dy() {
			for x := range px.Dx() {
				m.SetRGBA(x, y, at(x*fine, y*fine))
			}
		}
		c.put(m, point{r.x0, r.y0})
		c.rectangle(r, pen{width: 1.5, colour: color.Black})
	}}
}

// marks returns key entries for the states that occur on the surface.
func (p *wallPaint) marks() []swatch {
	present := map[State]bool{}
	for i := range p.normal {
		present[p.surface.state(i)] = true
	}
	var out []swatch
	if p.plain {
		out = p.plainMarks(present)
		delete(present, NoData)
	}
	for _, entry := range []struct {
		state State
		mark  colormap.Mark
		words string
	}{
		{Dry, colormap.Dry, "dry wall"}, {Open, colormap.Opening, "opening"},
		{Insulated, colormap.Insulated, "carries no current"}, {NoData, colormap.NoData, "no data"},
	} {
		if present[entry.state] {
			out = append(out, p.sampled(entry.words, func(x, y int) color.RGBA { return p.pattern(entry.mark, x, y) }))
		}
	}
	return out
}

// lineSwatch returns a key entry for a kind of line.
func lineSwatch(words string, p pen) swatch {
	return swatch{width: 52, words: words, draw: func(c *canvas, r rect) {
		y := r.centre().y
		c.line([]point{{r.x0, y}, {r.x1, y}}, p)
	}}
}

// filledSwatch returns a key entry for a plain colour.
func filledSwatch(words string, colour color.RGBA) swatch {
	return swatch{width: 52, words: words, draw: func(c *canvas, r rect) {
		c.block(r, colour)
		c.rectangle(r, pen{width: 2, colour: color.Black})
	}}
}

// lengthSwatch returns a key entry that shows a round length at the picture's scale, in
// layout units per metre, about as long as wanted.
func lengthSwatch(scale, wanted float64) swatch {
	length := roundDown(wanted / scale)
	words := fmt.Sprintf("%s mm", figure(length*1000))
	return swatch{width: length * scale, words: words, draw: func(c *canvas, r rect) {
		y := r.centre().y
		p := pen{width: 4, colour: color.Black}
		c.line([]point{{r.x0, y}, {r.x1, y}}, p)
		c.line([]point{{r.x0, y - 10}, {r.x0, y + 10}}, p)
		c.line([]point{{r.x1, y - 10}, {r.x1, y + 10}}, p)
	}}
}

// usualChemistry is the second uncertainty of every picture.
// Common practice, no source.
const usualChemistry = "how far a patch changes with the charge it gets: uncertain by a factor of about three (common practice, no source)"

// smallPrint writes the two uncertainties and further remarks; it returns the y below.
func (c *canvas) smallPrint(n Notes, y float64, remarks ...string) float64 {
	field, chemistry := n.Field, n.Chemistry
	if field == "" {
		field = "uncertainty not estimated"
	}
	if chemistry == "" {
		chemistry = usualChemistry
	}
	c.line([]point{{margin, y}, {sheetWidth - margin, y}}, pen{width: 1.5, colour: color.Black})
	y += 12
	lines := append([]string{"Field: " + field + ".", "Chemistry: " + chemistry + "."}, remarks...)
	if n.NoField {
		lines = remarks
	}
	for _, line := range lines {
		y = c.paragraph(line, point{margin, y}, sheetWidth-2*margin, style{size: small})
	}
	return y
}

// plainMarks returns the key entries of steel in a picture of states.
func (p *wallPaint) plainMarks(present map[State]bool) []swatch {
	var out []swatch
	if present[NoData] {
		out = append(out, p.sampled("wetted steel", func(int, int) color.RGBA { return p.steel }))
	}
	if present[Ceiling] {
		out = append(out, p.sampled("wetted, near level from below: may be blinded by gas", func(x, y int) color.RGBA { return p.lined(p.steel, x, y) }))
	}
	if present[Pocket] {
		out = append(out, p.sampled("kept dry by trapped air", func(x, y int) color.RGBA { return p.hatch(p.mark[colormap.Dry][0], x, y) }))
	}
	return out
}
