package job

import (
	"fmt"
	"strconv"
	"strings"
)

// keys collects key: value pairs for a line in braces.
type keys []string

func (k *keys) add(format string, args ...any) { *k = append(*k, fmt.Sprintf(format, args...)) }

// when adds a word that the job says.
func (k *keys) when(key, word string) {
	if word != "" {
		k.add("%s: %s", key, word)
	}
}

// positive adds a quantity that the job says.
func (k *keys) positive(key string, of kind, si float64) {
	if si > 0 {
		k.add("%s: %s", key, of.format(si))
	}
}

func (k keys) String() string { return "{" + strings.Join(k, ", ") + "}" }

// bath writes the bath; what follows from the recipe is not written.
func (p *page) bath(b *Bath) {
	p.line("bath:")
	p.line("  level: %s", b.Level)
	switch {
	case b.Meter.PPM > 0:
		p.line("  conductivity: %s", salinity.format(b.Meter.PPM))
	case b.Meter.Carried:
		p.line("  conductivity: %s", conductivity.format(b.Meter.Shown))
	case b.IsMeasured():
		p.line("  conductivity: %s", conductivity.format(b.Conductivity))
	}
	if b.Meter.Factor > 0 {
		p.line("  ppm_factor: %s", ppmFactor.format(b.Meter.Factor))
	}
	if b.Meter.Carried {
		p.line("  compensated: yes")
	}
	if b.Soda != nil {
		p.line("  soda: %s", b.Soda.keys())
	}
	if b.Temperature > 0 {
		p.line("  temperature: %s", temperature.format(b.Temperature))
	}
	if b.First != (Reading{}) {
		p.line("  first_reading: {volts: %s, amps: %s}", voltage.format(b.First.Volts), current.format(b.First.Amps))
	}
	if b.KeepsAir {
		p.line("  air: %s", word(airs, b.KeepsAir))
	}
	if b.Headspace != "" {
		p.line("  headspace: %s", strconv.Quote(b.Headspace))
	}
}

func (s *Soda) keys() keys {
	var k keys
	if s.Said {
		k.add("form: %s", word(forms(), form{s.Product, s.Bad}))
	}
	if s.Spoon > 0 {
		k.add("dose: %s mL/L", plainly(s.Spoon*1e3))
	} else {
		k.add("dose: %s", dose.format(s.Dose))
	}
	return k
}

// plainly writes a number so that it reads back the same.
func plainly(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// box adds what the label and the bench say to the keys of a supply.
func (k *keys) box(b *Box) {
	k.when("kind", word(supplyKinds, b.Kind))
	if b.Label != (Label{}) {
		k.add("label: %s %s", voltage.format(b.Label.Volts), current.format(b.Label.Amps))
	}
	if b.Start {
		k.add("switch: start")
	}
	k.positive("switch", current, b.Switch)
	if len(b.Clips) > 0 {
		rows := make([]string, len(b.Clips))
		for i, c := range b.Clips {
			rows[i] = fmt.Sprintf("{volts: %s, amps: %s}", voltage.format(c.Volts), current.format(c.Amps))
		}
		k.add("clips: [%s]", strings.Join(rows, ", "))
	}
	if b.Leads.Area > 0 {
		k.add("leads: {size: %s, length: %s, clips: %d}", copper.format(b.Leads.Area), length.format(b.Leads.Length), b.Leads.Clips)
	}
	if b.Lamp.Volts > 0 {
		k.add("lamp: {volts: %s, watts: %s, count: %d}", voltage.format(b.Lamp.Volts), power.format(b.Lamp.Watts), b.Lamp.Count)
	}
	k.when("isolated", b.Isolated.String())
	k.positive("fuse", current, b.Fuse)
}

// bench writes what is known of the tank, the rod and how they stand.
func (p *page) bench(j *Job) {
	m := &j.Materials
	var k keys
	k.when("vessel", word(vessels, m.Vessel))
	k.when("place", word(places, m.Place))
	k.when("tank", m.Tank.String())
	k.when("coating", word(coatings, m.Coating))
	k.when("seams", word(seams, m.Seams))
	k.when("held", word(contents, m.Held))
	k.when("emptied", m.Emptied.String())
	k.when("flushed", m.Flushed.String())
	k.when("pinholes", m.Pinholes.String())
	k.when("rod", m.Rod.String())
	k.positive("sheet", length, m.Sheet)
	if len(m.Fittings) > 0 {
		words := make([]string, len(m.Fittings))
		for i, f := range m.Fittings {
			words[i] = f.String()
		}
		k.add("fittings: [%s]", strings.Join(words, ", "))
	}
	if len(m.Loose) > 0 {
		words := make([]string, len(m.Loose))
		for i, l := range m.Loose {
			words[i] = strconv.Quote(l)
		}
		k.add("loose: [%s]", strings.Join(words, ", "))
	}
	if len(k) > 0 {
		p.line("materials: %s", k)
	}
	if j.NegativeAt != "" {
		p.line("negative_at: %s", strconv.Quote(j.NegativeAt))
	}
	if j.Riser != (Riser{}) {
		p.line("riser: {height: %s, bore: %s}", length.format(j.Riser.Height), length.format(j.Riser.Bore))
	}
}
