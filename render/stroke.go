package render

import (
	"image/color"
	"math"

	"evenwall/geometry"
)

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

// strokes finds outlines, creases and the liquid's line between neighbouring samples.
func (p *wallPaint) strokes(b *buffer, l *plate) []uint8 {
	out := make([]uint8, len(b.face))
	level := p.levels(b, l)
	for y := range b.h {
		for x := range b.w {
			i := y*b.w + x
			if x+1 < b.w {
				p.stamp(out, b, i, p.between(b, level, i, i+1, l, l.right))
			}
			if y+1 < b.h {
				p.stamp(out, b, i, p.between(b, level, i, i+b.w, l, l.up))
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
			above[i] = start+perX*float64(x)+perY*float64(y)+perDepth*float64(b.depth[i]) > atLevel
		}
	}
	return above
}

// atLevel is how far above the liquid wall may lie and count as at its level, m: a roof that the
// liquid stands up to.
const atLevel = 1e-5

// between returns the stroke between samples i and k, which lie beside each other along a direction.
func (p *wallPaint) between(b *buffer, above []bool, i, k int, l *plate, along geometry.Vec) uint8 {
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
	const cliff = 10 // a step deeper than this many samples, and than both faces are steep, is an outline
	if math.Abs(float64(b.depth[i]-b.depth[k]))*l.scale > cliff+min(p.steep(f, l, along), p.steep(g, l, along)) {
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

// steep returns how many samples deep a face goes in one sample along a direction.
func (p *wallPaint) steep(f int32, l *plate, along geometry.Vec) float64 {
	const least = 0.01 // cosine to the viewer: what is steeper yet is a cliff itself
	n := p.normal[f]
	return math.Abs(n.Dot(along)) / max(least, math.Abs(n.Dot(l.toward)))
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
