package render

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"regexp"

	"github.com/fogleman/gg"
)

// sheetWidth is the width of every picture in layout units.
const sheetWidth = 1200.0

// margin is kept free around every picture, in layout units.
const margin = 40.0

// canvas draws in layout units on a picture of any width.
type canvas struct {
	*lettering
	dc    *gg.Context
	image *image.RGBA
	texts []writing // everything written so far
}

// writing is a text on the picture and the box it fills, layout units.
type writing struct {
	text string
	box  rect
}

func newCanvas(l *lettering, height float64) *canvas {
	m := image.NewRGBA(image.Rect(0, 0, int(math.Round(sheetWidth*l.unit)), int(math.Ceil(height*l.unit))))
	draw.Draw(m, m.Bounds(), image.White, image.Point{}, draw.Src)
	return &canvas{lettering: l, dc: gg.NewContextForRGBA(m), image: m}
}

// anchor says which point of a text's box is put at a place: 0 left or top, 1 right or
// bottom.
type anchor struct{ x, y float64 }

// box returns where a text would stand.
func (c *canvas) box(text string, at point, a anchor, s style) rect {
	w, h := c.width(text, s), s.size
	x, y := at.x-a.x*w, at.y-a.y*h
	return rect{x, y, x + w, y + h}
}

// text writes a line with the anchor at the place.
func (c *canvas) text(text string, at point, a anchor, s style) {
	b := c.box(text, at, a, s)
	c.write(text, b, s)
	c.texts = append(c.texts, writing{text, b})
}

// write draws the letters; capitals and digits fill the box from its top to about a fifth
// above its bottom.
func (c *canvas) write(text string, b rect, s style) {
	const baseline = 0.82 // of the size, below the box's top
	c.dc.SetFontFace(c.face(s))
	x, y := math.Round(b.x0*c.unit), math.Round((b.y0+baseline*s.size)*c.unit)
	if s.halo {
		c.dc.SetColor(color.White)
		reach := 2.5 * c.unit
		for k := range 8 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 4)
			c.dc.DrawString(text, x+reach*cos, y+reach*sin)
		}
	}
	c.dc.SetColor(s.ink())
	c.dc.DrawString(text, x, y)
}

func (s style) ink() color.Color {
	if s.colour == nil {
		return color.Black
	}
	return s.colour
}

// upright writes a line turned to read from bottom to top, centred on the place.
func (c *canvas) upright(text string, at point, s style) {
	w, h := c.width(text, s), s.size
	c.dc.Push()
	c.dc.RotateAbout(-math.Pi/2, at.x*c.unit, at.y*c.unit)
	c.write(text, around(at, w/2, h/2), s)
	c.dc.Pop()
	c.texts = append(c.texts, writing{text, around(at, h/2, w/2)})
}

// squared are areas in units as a terminal has them, and degrees of temperature likewise.
var (
	squared = regexp.MustCompile(`\b(c|A/|h/|)m2\b`)
	degrees = regexp.MustCompile(`\bdeg([CF])\b`)
)

// paragraph writes wrapped text from a place downward and returns the y below it.
func (c *canvas) paragraph(text string, at point, width float64, s style) float64 {
	text = degrees.ReplaceAllString(squared.ReplaceAllString(text, "${1}m²"), "°$1")
	for _, line := range c.wrap(text, s, width) {
		c.text(line, at, anchor{}, s)
		at.y += s.lineHeight()
	}
	return at.y
}

// pen is how a line looks.
type pen struct {
	width  float64 // layout units
	colour color.Color
	dash   float64 // length of dashes and gaps, layout units; 0: solid
}

// line draws through the points.
func (c *canvas) line(points []point, p pen) {
	if len(points) < 2 {
		return
	}
	c.trace(points)
	c.stroke(p)
}

// loop draws a closed line through the points.
func (c *canvas) loop(points []point, p pen) {
	if len(points) < 2 {
		return
	}
	c.trace(points)
	c.dc.ClosePath()
	c.stroke(p)
}

// fill paints the inside of a closed line.
func (c *canvas) fill(points []point, colour color.Color) {
	if len(points) < 3 {
		return
	}
	c.trace(points)
	c.dc.ClosePath()
	c.dc.SetColor(colour)
	c.dc.Fill()
}

func (c *canvas) trace(points []point) {
	c.dc.ClearPath()
	for _, p := range points {
		c.dc.LineTo(p.x*c.unit, p.y*c.unit)
	}
}

func (c *canvas) stroke(p pen) {
	c.dc.SetColor(p.colour)
	c.dc.SetLineWidth(p.width * c.unit)
	c.dc.SetDash()
	if p.dash > 0 {
		c.dc.SetLineCapButt()
		c.dc.SetDash(p.dash*c.unit, 0.7*p.dash*c.unit)
	}
	c.dc.Stroke()
	c.dc.SetDash()
	c.dc.SetLineCapRound()
}

// outlined draws a closed line in a colour with a white line on both sides, to be seen on
// any ground.
func (c *canvas) outlined(points []point, p pen) {
	c.loop(points, pen{width: p.width + 3, colour: color.White})
	c.loop(points, p)
}

// disc fills a circle and draws its edge.
func (c *canvas) disc(at point, radius float64, fill color.Color, edge pen) {
	c.dc.ClearPath()
	c.dc.DrawCircle(at.x*c.unit, at.y*c.unit, radius*c.unit)
	c.dc.SetColor(fill)
	c.dc.FillPreserve()
	c.dc.SetColor(edge.colour)
	c.dc.SetLineWidth(edge.width * c.unit)
	c.dc.Stroke()
}

// box draws a rectangle.
func (c *canvas) rectangle(r rect, p pen) {
	c.loop([]point{{r.x0, r.y0}, {r.x1, r.y0}, {r.x1, r.y1}, {r.x0, r.y1}}, p)
}

// block fills a rectangle, sharp to whole pixels.
func (c *canvas) block(r rect, colour color.Color) {
	draw.Draw(c.image, c.pixels(r), image.NewUniform(colour), image.Point{}, draw.Src)
}

// pixels returns the rectangle in whole pixels.
func (c *canvas) pixels(r rect) image.Rectangle {
	round := func(v float64) int { return int(math.Round(v * c.unit)) }
	return image.Rect(round(r.x0), round(r.y0), round(r.x1), round(r.y1))
}

// put draws an image with its corner at a place.
func (c *canvas) put(m image.Image, at point) {
	corner := image.Pt(int(math.Round(at.x*c.unit)), int(math.Round(at.y*c.unit)))
	draw.Draw(c.image, m.Bounds().Add(corner), m, image.Point{}, draw.Over)
}

// crop cuts the picture off below y.
func (c *canvas) crop(y float64) {
	full := c.image.Bounds()
	keep := image.Rect(0, 0, full.Dx(), min(full.Dy(), int(math.Ceil(y*c.unit))))
	out := image.NewRGBA(keep)
	draw.Draw(out, keep, c.image, image.Point{}, draw.Src)
	c.image, c.dc = out, gg.NewContextForRGBA(out)
}
