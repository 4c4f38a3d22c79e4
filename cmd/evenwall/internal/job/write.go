package job

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"evenwall/geometry"
)

// page collects the lines of a job file.
type page struct{ strings.Builder }

func (p *page) line(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

// YAML writes j as a complete job file to stand in folder, with every default written
// out. Load reads back the same values to the last digit; paths in it are relative to
// folder where that is possible.
func (j *Job) YAML(folder string) []byte {
	p := &page{}
	p.line("job: 1")
	p.line("title: %s", strconv.Quote(j.Title))
	p.tank(&j.Tank, folder)
	p.bath(&j.Bath)
	p.line("wall: {%s}", lawKeys(j.Wall))
	p.supply(j.Supply)
	if len(j.Anodes) > 0 {
		p.anodes(j.Anodes, "")
	}
	if len(j.Stations) > 0 {
		p.line("stations:")
	}
	for _, s := range j.Stations {
		p.line("  - name: %s", strconv.Quote(s.Name))
		p.line("    hours: %s", duration.format(s.Duration))
		p.line("    attitude: %s", attitudeKeys(s.Attitude))
		p.anodes(s.Anodes, "    ")
	}
	p.search(j.Search)
	p.aim(j.Aim)
	p.bench(j)
	if len(j.Unreached) > 0 {
		p.line("unreached:")
	}
	for _, note := range j.Unreached {
		p.line("  - %s", strconv.Quote(note))
	}
	return []byte(p.String())
}

func (p *page) tank(t *Tank, folder string) {
	p.line("tank:")
	if t.Surface != "" {
		p.line("  surface: %s", strconv.Quote(relative(t.Surface, folder)))
		p.line("  unit: %s", word(surfaceUnits, t.Unit))
		p.skin(t.Skin)
	}
	if t.Shape != nil {
		p.line("  shape:")
		p.shape(t.Shape)
	}
	if t.Sides != (geometry.Sides{}) {
		p.line("  sides: {front: %s}", word(fronts, t.Sides))
	}
	p.baffles(t, folder)
	if len(t.Seams) > 0 {
		p.line("  seams:")
	}
	for _, seam := range t.Seams {
		p.line("    - %s", strconv.Quote(seam))
	}
	if t.Sludge > 0 {
		p.line("  sludge: %s", length.format(t.Sludge))
	}
	if t.Capacity > 0 {
		p.line("  capacity: %s", volume.format(t.Capacity))
	}
	p.line("  attitude: %s", attitudeKeys(t.Attitude))
	if len(t.Openings) > 0 {
		p.WriteString(OpeningsYAML(t.Openings, t.Sides))
	}
}

// OpeningsYAML returns the lines of the key openings, indented to stand under tank; sides
// are the tank's.
func OpeningsYAML(openings []Opening, sides geometry.Sides) string {
	p := &page{}
	p.line("  openings:")
	for _, o := range openings {
		twelve := ""
		if o.Twelve != (geometry.Vec{}) {
			twelve = ", twelve: " + sides.Facing(o.Twelve)
		}
		p.line("    - {name: %s, centre: %s, axis: %s, diameter: %s, use: %s%s}", strconv.Quote(o.Name),
			point(o.Centre), direction(o.Axis), length.format(o.Diameter), o.Use, twelve)
	}
	return p.String()
}

func (p *page) supply(s Supply) {
	volts, ohms, limit := s.Voltage, s.Resistance, s.Limit
	if s.Box != nil {
		volts, ohms, limit = s.Box.Voltage, s.Box.Resistance, s.Box.Limit
	}
	var k keys
	k.positive("voltage", voltage, volts)
	k.add("resistance: %s", resistance.format(ohms))
	k.positive("limit", current, limit)
	if s.DeadGiven {
		k.add("dead_voltage: %s", voltage.format(s.Dead))
	}
	if s.Box != nil {
		k.box(s.Box)
	}
	p.line("supply: %s", k)
}

func (p *page) anodes(anodes []Anode, indent string) {
	p.line("%sanodes:", indent)
	for _, a := range anodes {
		row := func(format string, args ...any) { p.line(indent+"    "+format, args...) }
		p.line("%s  - name: %s", indent, strconv.Quote(a.Name))
		row("diameter: %s", length.format(2*a.Radius))
		row("through: %s", strconv.Quote(a.Through))
		row("top: %s", point(a.Path[len(a.Path)-1]))
		row("tip: %s", point(a.Path[0]))
		row("end: %s", word(ends, a.Flat))
		spans := make([]string, len(a.Bare))
		for i, s := range a.Bare {
			spans[i] = fmt.Sprintf("[%s, %s]", length.format(s.From), length.format(s.To))
		}
		row("bare: [%s]", strings.Join(spans, ", "))
		if a.Sleeve > 0 {
			row("sleeve: %s", length.format(2*a.Sleeve))
		}
		p.fittings(&a, row)
		row("film: %s", film.format(a.Law.Film))
	}
}

func (p *page) search(s Search) {
	rods := make([]string, len(s.Rods))
	for i, d := range s.Rods {
		rods[i] = length.format(d)
	}
	var off keys
	if t := s.Tolerance; !t.IsZero() {
		off.add("position: %s", length.format(t.Position))
		off.add("tilt: %s", angle.format(t.Tilt))
		off.add("depth: %s", length.format(t.Depth))
	}
	off.add("level: %s", length.format(s.Drift.Level))
	off.add("conductivity: %s", share.format(s.Drift.Conductivity))
	var k keys
	k.add("clearance: %s", length.format(s.Clearance))
	k.add("tolerance: %s", off)
	k.add("rods: [%s]", strings.Join(rods, ", "))
	k.add("count: %d", s.Count)
	k.add("stretches: %d", s.Stretches)
	if s.Bent {
		k.add("bent: yes")
	}
	k.positive("bend_radius", length, s.BendRadius)
	if s.Flexible {
		k.add("flexible: yes")
	}
	k.positive("least_bend", length, s.LeastBend)
	k.add("stations: %d", s.Stations)
	if s.Robust {
		k.add("robust: true")
	}
	if len(s.Attitudes) > 0 {
		all := make([]string, len(s.Attitudes))
		for i, a := range s.Attitudes {
			all[i] = attitudeKeys(a)
		}
		k.add("attitudes: [%s]", strings.Join(all, ", "))
	}
	p.line("search: %s", k)
}

func lawKeys(l Law) string {
	keys := []string{"film: " + film.format(l.Film)}
	if l.Oxygen != NoOxygen {
		keys = append(keys, "law: "+word(oxygens, l.Oxygen))
	} else if l.HasOverpotential() {
		keys = append(keys, "exchange: "+density.format(l.Exchange), "slope: "+voltage.format(l.Slope))
	}
	return strings.Join(keys, ", ")
}

func attitudeKeys(a Attitude) string {
	return fmt.Sprintf("{pitch: %s, roll: %s}", angle.format(a.Pitch), angle.format(a.Roll))
}

func point(v geometry.Vec) string {
	return fmt.Sprintf("[%s, %s, %s]", length.format(v.X), length.format(v.Y), length.format(v.Z))
}

func direction(v geometry.Vec) string {
	f := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	return fmt.Sprintf("[%s, %s, %s]", f(v.X), f(v.Y), f(v.Z))
}

// relative returns path as seen from folder, with forward slashes; path itself where
// there is no way from one to the other.
func relative(path, folder string) string {
	from, errFrom := filepath.Abs(folder)
	to, errTo := filepath.Abs(path)
	if errFrom != nil || errTo != nil {
		return filepath.ToSlash(path)
	}
	way, err := filepath.Rel(from, to)
	if err != nil {
		return filepath.ToSlash(to)
	}
	return filepath.ToSlash(way)
}
