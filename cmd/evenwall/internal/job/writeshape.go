package job

import "fmt"

func (p *page) shape(s Shape) {
	switch s := s.(type) {
	case *Box:
		p.line("    box: {length: %s, width: %s, height: %s, round: %s}",
			length.format(s.Length), length.format(s.Width), length.format(s.Height), length.format(s.Round))
	case *Drum:
		p.line("    drum: {pose: %s, diameter: %s, length: %s, heads: %s%s}", word(poses, s.Pose),
			length.format(s.Diameter), length.format(s.Length), word(heads, s.Heads), headKeys(s))
	case *Stack:
		p.line("    stack:")
		p.line("      sections:")
		for _, section := range s.Sections {
			p.section(section)
		}
	}
}

// headKeys writes the measures of the heads that are not left to their defaults.
func headKeys(d *Drum) string {
	keys := ""
	for _, k := range []struct {
		name string
		size float64 // m
	}{{"depth", d.Depth}, {"crown", d.Crown}, {"knuckle", d.Knuckle}} {
		if k.size > 0 {
			keys += fmt.Sprintf(", %s: %s", k.name, length.format(k.size))
		}
	}
	return keys
}

func (p *page) section(s Section) {
	p.line("        - {at: %s, width: %s, height: %s, floor: %s, side: %s, round: %s, notch: {width: %s, height: %s}}",
		length.format(s.At), length.format(s.Width), length.format(s.Height), length.format(s.Floor),
		length.format(s.Side), length.format(s.Round), length.format(s.Notch.Width), length.format(s.Notch.Height))
}
