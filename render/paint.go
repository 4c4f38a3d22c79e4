package render

import (
	"image"
	"image/color"
	"math"

	"evenwall/geometry"
	"evenwall/render/colormap"
)

// fine is the number of samples along each side of a pixel.
const fine = 2

// metal is the colour of bare rod.
var metal = color.RGBA{70, 70, 76, 255}

// wallPaint turns the buffer of a view into colours.
type wallPaint struct {
	surface *Surface
	bands   bands
	normal  []geometry.Vec
	corner  [][3]float32 // log10 of the figure at each face's corners
	patch   []int16      // number of the patch a face is in, 0: none
	never   []bool       // by face: in a patch that no layout reaches
	liquid  Plane
	unit    float64         // pixels per layout unit
	plain   bool            // states only: wetted steel has one colour
	steel   color.RGBA      // that colour
	mark    [][2]color.RGBA // by colormap.Mark: its colour, and that of its lines or dots
}

func newWallPaint(s *Scene, b bands, unit float64) *wallPaint {
	p := &wallPaint{surface: &s.Surface, bands: b, liquid: s.Liquid, unit: unit, steel: colormap.At(0.82)}
	p.normal = newArranger(&s.Surface).normal
	p.corner = cornerLogs(&s.Surface, p.normal, b.logs[0]-1)
	for _, m := range colormap.Marks() {
		c := m.Colour()
		p.mark = append(p.mark, [2]color.RGBA{c, mix(c, color.RGBA{30, 30, 30, 255}, 0.6)})
	}
	p.patch, p.never = make([]int16, len(p.normal)), make([]bool, len(p.normal))
	for _, patch := range s.Patches {
		for _, f := range patch.Faces {
			p.patch[f], p.never[f] = int16(patch.Number), patch.Never
		}
	}
	return p
}

// picture returns the panel's image, transparent where there is no wall. b and l count in
// samples.
func (p *wallPaint) picture(b *buffer, l *plate) *image.RGBA {
	strokes := p.strokes(b, l)
	out := image.NewRGBA(image.Rect(0, 0, b.w/fine, b.h/fine))
	for y := range b.h / fine {
		for x := range b.w / fine {
			var sum [4]int
			for k := range fine * fine {
				sx, sy := x*fine+k%fine, y*fine+k/fine
				c := p.sample(b, strokes, sx, sy)
				sum[0] += int(c.R)
				sum[1] += int(c.G)
				sum[2] += int(c.B)
				sum[3] += int(c.A)
			}
			const n = fine * fine
			out.SetRGBA(x, y, color.RGBA{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n), uint8(sum[3] / n)})
		}
	}
	return out
}

// sample returns the colour of one sample.
func (p *wallPaint) sample(b *buffer, strokes []uint8, x, y int) color.RGBA {
	i := y*b.w + x
	switch strokes[i] {
	case outlineStroke:
		return color.RGBA{30, 30, 30, 255}
	case liquidHalo:
		return color.RGBA{255, 255, 255, 255}
	case liquidStroke:
		return liquidColour
	}
	f := b.face[i]
	if f == nothing {
		return color.RGBA{}
	}
	c := p.ground(f, float64(b.value[i]), x, y)
	switch {
	case p.never[f]:
		c = p.crossed(c, x, y)
	case p.patch[f] > 0:
		c = p.hatch(c, x, y)
	}
	if strokes[i] == creaseStroke {
		return mix(c, color.RGBA{30, 30, 30, 255}, 0.6)
	}
	return c
}

// ground returns the colour of a face before anything is laid over it.
func (p *wallPaint) ground(f int32, log float64, x, y int) color.RGBA {
	state := p.surface.state(int(f))
	if p.plain && state == NoData {
		return p.steel
	}
	switch state {
	case Wetted:
		return p.bands.at(log)
	case Pocket:
		return p.hatch(p.mark[colormap.Dry][0], x, y)
	case Ceiling:
		return p.lined(p.steel, x, y)
	case Dry:
		return p.pattern(colormap.Dry, x, y)
	case Open:
		return p.pattern(colormap.Opening, x, y)
	case Insulated:
		return p.pattern(colormap.Insulated, x, y)
	default:
		return p.pattern(colormap.NoData, x, y)
	}
}

// pattern returns a mark's colour at a sample, with the lines or dots that tell it apart
// in a grey print.
func (p *wallPaint) pattern(m colormap.Mark, x, y int) color.RGBA {
	period := p.samples(12)
	thin := p.samples(2)
	ink := false
	switch m {
	case colormap.Dry:
		ink = y%period < thin
	case colormap.Opening:
		ink = (x+y)%(2*period) < thin || (x-y+1<<20)%(2*period) < thin
	case colormap.Insulated:
		ink = x%period < thin || y%period < thin
	case colormap.NoData:
		ink = x%period < 2*thin && y%period < 2*thin
	}
	if ink {
		return p.mark[m][1]
	}
	return p.mark[m][0]
}

// hatch lays slanting stripes over a colour: white beside black, to be seen on light and
// dark.
func (p *wallPaint) hatch(c color.RGBA, x, y int) color.RGBA {
	period, stripe := p.samples(15), p.samples(2.5)
	switch s := (x + y) % period; {
	case s < stripe:
		return color.RGBA{255, 255, 255, 255}
	case s < 2*stripe:
		return color.RGBA{0, 0, 0, 255}
	}
	return c
}

// crossed is hatch with stripes both ways.
func (p *wallPaint) crossed(c color.RGBA, x, y int) color.RGBA {
	const far = 1 << 20 // periods: the other way round, and still above 0
	return p.hatch(p.hatch(c, x, y), far*p.samples(15)-x, y)
}

// lined lays thin slanting dark lines over a colour.
func (p *wallPaint) lined(c color.RGBA, x, y int) color.RGBA {
	if (x+y)%p.samples(13) < p.samples(2.5) {
		return mix(c, color.RGBA{30, 30, 30, 255}, 0.75)
	}
	return c
}

// samples converts layout units to whole samples, at least one.
func (p *wallPaint) samples(units float64) int {
	return max(1, int(math.Round(units*p.unit*fine)))
}

func mix(a, b color.RGBA, t float64) color.RGBA {
	blend := func(p, q uint8) uint8 { return uint8(math.Round(float64(p) + (float64(q)-float64(p))*t)) }
	return color.RGBA{blend(a.R, b.R), blend(a.G, b.G), blend(a.B, b.B), blend(a.A, b.A)}
}
