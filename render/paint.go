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
	liquid  Plane
	unit    float64         // pixels per layout unit
	mark    [][2]color.RGBA // by colormap.Mark: its colour, and that of its lines or dots
}

func newWallPaint(s *Scene, b bands, unit float64) *wallPaint {
	p := &wallPaint{surface: &s.Surface, bands: b, liquid: s.Liquid, unit: unit}
	p.normal = newArranger(&s.Surface).normal
	p.corner = cornerLogs(&s.Surface, p.normal, b.logs[0]-1)
	for _, m := range colormap.Marks() {
		c := m.Colour()
		p.mark = append(p.mark, [2]color.RGBA{c, mix(c, color.RGBA{30, 30, 30, 255}, 0.6)})
	}
	p.patch = make([]int16, len(p.normal))
	for _, patch := range s.Patches {
		for _, f := range patch.Faces {
			p.patch[f] = int16(patch.Number)
		}
	}
	return p
}

// cornerLogs spreads the faces' figures to their corners: the mean logarithm over the
// wetted faces that meet there without a crease, so that colours run smoothly across
// facets and still break at edges. floor stands for figures at or below zero.
func cornerLogs(s *Surface, normal []geometry.Vec, floor float64) [][3]float32 {
	const smooth = 0.82 // cosine of 35 degrees between normals: beyond it is a crease
	logs := make([]float64, len(normal))
	for i := range logs {
		logs[i] = math.NaN()
		if s.state(i) == Wetted {
			logs[i] = max(floor, math.Log10(max(s.value(i), 0)))
		}
	}
	first, around := facesAround(&s.Mesh)
	out := make([][3]float32, len(normal))
	for i, f := range s.Mesh.Faces {
		if math.IsNaN(logs[i]) {
			continue
		}
		for k, v := range f {
			sum, count := 0.0, 0.0
			for _, g := range around[first[v]:first[v+1]] {
				if !math.IsNaN(logs[g]) && normal[g].Dot(normal[i]) >= smooth {
					sum, count = sum+logs[g], count+1
				}
			}
			out[i][k] = float32(logs[i])
			if count > 0 {
				out[i][k] = float32(sum / count)
			}
		}
	}
	return out
}

// facesAround lists the faces at each corner: those of corner v are
// around[first[v]:first[v+1]].
func facesAround(m *geometry.Mesh) (first, around []int32) {
	first = make([]int32, len(m.Vertices)+1)
	for _, f := range m.Faces {
		for _, v := range f {
			first[v+1]++
		}
	}
	for v := range m.Vertices {
		first[v+1] += first[v]
	}
	next := append([]int32(nil), first...)
	around = make([]int32, first[len(m.Vertices)])
	for i, f := range m.Faces {
		for _, v := range f {
			around[next[v]] = int32(i)
			next[v]++
		}
	}
	return first, around
}

// Strokes laid over the colours, the later over the earlier.
const (
	noStroke = iota
	creaseStroke
	outlineStroke
	liquidHalo
	liquidStroke
)

// liquidColour is that of the liquid's line; it is dark in a grey print.
var liquidColour = color.RGBA{0, 60, 190, 255}

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
	if p.patch[f] > 0 {
		c = p.hatch(c, x, y)
	}
	if strokes[i] == creaseStroke {
		return mix(c, color.RGBA{30, 30, 30, 255}, 0.6)
	}
	return c
}

// ground returns the colour of a face before anything is laid over it.
func (p *wallPaint) ground(f int32, log float64, x, y int) color.RGBA {
	switch p.surface.state(int(f)) {
	case Wetted:
		return p.bands.at(log)
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

// samples converts layout units to whole samples, at least one.
func (p *wallPaint) samples(units float64) int {
	return max(1, int(math.Round(units*p.unit*fine)))
}

func mix(a, b color.RGBA, t float64) color.RGBA {
	blend := func(p, q uint8) uint8 { return uint8(math.Round(float64(p) + (float64(q)-float64(p))*t)) }
	return color.RGBA{blend(a.R, b.R), blend(a.G, b.G), blend(a.B, b.B), blend(a.A, b.A)}
}

// strokes finds outlines, creases and the liquid's line between neighbouring samples.
func (p *wallPaint) strokes(b *buffer, l *plate) []uint8 {
	out := make([]uint8, len(b.face))
	level := p.levels(b, l)
	for y := range b.h {
		for x := range b.w {
			i := y*b.w + x
			if x+1 < b.w {
				p.stamp(out, b, i, p.between(b, level, i, i+1, l.scale))
			}
			if y+1 < b.h {
				p.stamp(out, b, i, p.between(b, level, i, i+b.w, l.scale))
			}
		}
	}
	return out
}

// levels returns which samples of wall lie above the liquid, or nil without a liquid line.
func (p *wallPaint) levels(b *buffer, l *plate) []bool {
	n := p.liquid.Normal.Unit()
	if n == (geometry.Vec{}) {
		return nil
	}
	// The height is linear in the sample's x, y and depth.
	start := p.liquid.Height(l.back(point{0.5, 0.5}, 0))
	perX, perY, perDepth := n.Dot(l.right)/l.scale, -n.Dot(l.up)/l.scale, n.Dot(l.toward)
	above := make([]bool, len(b.face))
	for y := range b.h {
		for x := range b.w {
			i := y*b.w + x
			above[i] = start+perX*float64(x)+perY*float64(y)+perDepth*float64(b.depth[i]) > 0
		}
	}
	return above
}

// between returns the stroke between samples i and k.
func (p *wallPaint) between(b *buffer, above []bool, i, k int, scale float64) uint8 {
	f, g := b.face[i], b.face[k]
	if f == g && (above == nil || above[i] == above[k]) {
		return noStroke
	}
	if f == nothing || g == nothing {
		if f == g {
			return noStroke
		}
		return outlineStroke
	}
	const cliff = 10 // a step deeper than this many samples is an outline
	if math.Abs(float64(b.depth[i]-b.depth[k]))*scale > cliff {
		return outlineStroke
	}
	if above != nil && above[i] != above[k] {
		return liquidStroke
	}
	const crease = 0.9 // cosine of 26 degrees
	if p.normal[f].Dot(p.normal[g]) < crease {
		return creaseStroke
	}
	return noStroke
}

// stamp thickens a stroke around sample i.
func (p *wallPaint) stamp(out []uint8, b *buffer, i int, stroke uint8) {
	switch stroke {
	case creaseStroke:
		out[i] = max(out[i], stroke)
	case outlineStroke:
		p.square(out, b, i, p.samples(0.5), stroke)
	case liquidStroke:
		p.square(out, b, i, p.samples(2.5), liquidHalo)
		p.square(out, b, i, p.samples(1), stroke)
	}
}

// square raises all samples within reach of i to the stroke.
func (p *wallPaint) square(out []uint8, b *buffer, i, reach int, stroke uint8) {
	x, y := i%b.w, i/b.w
	for v := max(0, y-reach); v <= min(b.h-1, y+reach); v++ {
		for u := max(0, x-reach); u <= min(b.w-1, x+reach); u++ {
			out[v*b.w+u] = max(out[v*b.w+u], stroke)
		}
	}
}
