package job

import (
	"fmt"
	"strconv"
	"strings"

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
	case shape.Cone:
		p.line("    cone: {axis: %s, near: %s, far: %s, length: %s}", word(axes, s.Axis), length.format(s.Near), length.format(s.Far), length.format(s.Length))
	case shape.Wedge:
		p.line("    wedge: {length: %s, width: %s, rear: %s, front: %s, round: %s}",
			length.format(s.Length), length.format(s.Width), length.format(s.Rear), length.format(s.Front), length.format(s.Radius))
	case shape.Ring:
		p.line("    ring: {diameter: %s, width: %s, height: %s, round: %s}",
			length.format(s.Diameter), length.format(s.Width), length.format(s.Height), share.format(s.Roundness))
	case shape.Lobes:
		p.line("    lobes:")
		p.line("      spread: %s", length.format(s.Spread))
		p.line("      crossover: {x: %s, z: %s, diameter: %s}", length.format(s.Crossover.X), length.format(s.Crossover.Z), length.format(s.Crossover.Diameter))
		p.line("      lobe:")
		p.indented("    ", func(inner *page) { inner.shape(s.Lobe) })
	case shape.Fitted:
		p.shape(s.Tank)
		p.fitted(s)
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

// indented adds lines deeper by indent.
func (p *page) indented(indent string, write func(*page)) {
	var inner page
	write(&inner)
	for line := range strings.Lines(inner.String()) {
		p.WriteString(indent + line)
	}
}

func (p *page) fitted(s shape.Fitted) {
	if len(s.Necks) > 0 {
		p.line("    necks:")
	}
	for _, n := range s.Necks {
		p.line("      - {centre: %s, axis: %s, diameter: %s}", point(n.Centre), direction(n.Axis), length.format(n.Diameter))
	}
	if len(s.Tunnels) > 0 {
		p.line("    tunnels:")
	}
	for _, t := range s.Tunnels {
		p.line("      - {from: %s, to: %s, diameter: %s}", point(t.From), point(t.To), length.format(t.Diameter))
	}
}

// baffles writes the internal sheets: files first.
func (p *page) baffles(t *Tank, folder string) {
	if len(t.Baffles)+len(t.Sheets) > 0 {
		p.line("  baffles:")
	}
	for _, b := range t.Baffles {
		p.line("    - %s", strconv.Quote(relative(b, folder)))
	}
	for _, s := range t.Sheets {
		switch s := s.(type) {
		case shape.Plate:
			p.plate(s)
		case shape.Spout:
			p.line("    - spout: {centre: %s, axis: %s, diameter: %s, length: %s, restrictor: %s}",
				point(s.Centre), direction(s.Axis), length.format(s.Diameter), length.format(s.Length), length.format(s.Restrictor))
		}
	}
}

func (p *page) plate(s shape.Plate) {
	holes := make([]string, len(s.Holes))
	for i, h := range s.Holes {
		holes[i] = fmt.Sprintf("{across: %s, up: %s, diameter: %s, length: %s, turn: %s}",
			length.format(h.Across), length.format(h.Up), length.format(h.Diameter), length.format(h.Length), angle.format(h.Turn))
	}
	p.line("    - plate: {centre: %s, normal: %s, width: %s, height: %s, holes: [%s]}",
		point(s.Centre), direction(s.Normal), length.format(s.Width), length.format(s.Height), strings.Join(holes, ", "))
}
