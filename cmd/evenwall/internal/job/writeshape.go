package job

import (
	"fmt"

	"evenwall/geometry/shape"
)

func (p *page) shape(s shape.Shape) {
	switch s := s.(type) {
	case shape.Box:
		p.line("    box: {length: %s, width: %s, height: %s, round: %s}",
			length.format(s.Length), length.format(s.Width), length.format(s.Height), length.format(s.Radius))
	case shape.Drum:
		p.line("    drum: {axis: %s, diameter: %s, length: %s, heads: %s%s}", word(axes, s.Axis),
			length.format(s.Diameter), length.format(s.Length), word(heads, s.Head.Kind), headKeys(s.Head))
	case shape.Stack:
		p.stack(s)
	}
}

// headKeys writes the measures of the heads that are not left to their defaults.
func headKeys(h shape.Head) string {
	keys := ""
	for _, k := range []struct {
		name string
		size float64 // m
	}{{"depth", h.Depth}, {"crown", h.Crown}, {"knuckle", h.Knuckle}} {
		if k.size > 0 {
			keys += fmt.Sprintf(", %s: %s", k.name, length.format(k.size))
		}
	}
	return keys
}

func (p *page) stack(s shape.Stack) {
	p.line("    stack:")
	p.line("      axis: %s", word(axes, s.Axis))
	p.line("      sections:")
	for _, section := range s.Sections {
		p.section(section)
	}
	if len(s.Bends) > 0 {
		p.line("      bends:")
	}
	for _, b := range s.Bends {
		p.line("        - {at: %s, angle: %s, radius: %s}", length.format(b.At), angle.format(b.Angle), length.format(b.Radius))
	}
}

func (p *page) section(s shape.Section) {
	round := length.format(s.Corner)
	if s.Roundness > 0 {
		round = share.format(s.Roundness)
	}
	p.line("        - {at: %s, width: %s, height: %s, bottom: %s, side: %s, round: %s, notch: {width: %s, height: %s}}",
		length.format(s.At), length.format(s.Width), length.format(s.Height), length.format(s.Bottom),
		length.format(s.Side), round, length.format(s.Notch.Width), length.format(s.Notch.Height))
}
