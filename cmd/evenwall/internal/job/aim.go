package job

import (
	"strconv"
	"strings"

	"evenwall/geometry"
)

// Aim is what the wall is to get. The defaults are common practice, no source: a test
// piece from the same tank is better.
type Aim struct {
	Charge float64 // what a patch needs, C/m²; default 150 A h/m²
	Least  float64 // below this current density a patch counts as getting nothing, A/m²; default 1
	Most   float64 // above this more counts no more, A/m²; default 50
	Share  float64 // of the reachable wall, 0 to 1; default 0.95

	Within      float64 // above 0: as much wall as possible is wanted within this time, s
	LeastCharge bool    // the least charge is wanted, not the least time
	Weights     Weights
	Spare       []Spared

	Session float64 // attended, at a stretch, s; 0 when not said
	Fallen  float64 // share of the first current that is gone when the rod is to be scrubbed, 0 to 1; 0 when not said
}

// Weights are how often the area of wall counts by where it lies. The zero value counts all
// alike.
type Weights struct {
	Floor, Walls, Roof float64 // faces up, neither way, down, by 45 degrees
	Lined              bool    // the waterline has a weight of its own
	Waterline          float64 // of wall within WaterlineBand of where the water stood, before the others
	At                 float64 // where it stood, m above the lowest inside point; 0: the bath's level
}

// WaterlineBand is how far wall may be above or below a waterline to belong to it, m.
const WaterlineBand = 0.015

// IsZero reports whether all wall counts alike.
func (w Weights) IsZero() bool { return w == Weights{} }

// Spared is wall along a line that is to get little, such as a weak seam.
type Spared struct {
	Name   string
	Line   []geometry.Vec // m; one point or more
	Near   float64        // wall within this of the line belongs to it, m; default 15 mm
	Most   float64        // current density allowed, A/m²; 0: no limit
	Charge float64        // charge allowed, C/m²; 0: no limit
}

func defaultAim() Aim { return Aim{Charge: 150 * hour, Least: 1, Most: 50, Share: 0.95} }

func readAim(v value) Aim {
	f := v.fields()
	a := defaultAim()
	a.Charge = f.get("charge").quantityOr(a.Charge, charge, positive)
	a.Least = f.get("least").quantityOr(a.Least, density, positive)
	a.Most = f.get("most").quantityOr(a.Most, density, positive)
	a.Share = f.get("share").quantityOr(a.Share, share, positive)
	a.Within = f.get("within").quantity(duration, positive)
	a.LeastCharge = choice(f.get("prefer"), []option[bool]{{"time", false}, {"charge", true}})
	if a.LeastCharge && a.Within > 0 {
		f.get("prefer").faultf("charge and a time to keep within exclude each other: leave out one of the two")
	}
	a.Weights = readWeights(f.get("weights"))
	for _, entry := range f.get("spare").list("seams, each with its name, line and most") {
		a.Spare = append(a.Spare, readSpared(entry))
	}
	a.Session = f.get("session").quantity(duration, positive)
	a.Fallen = f.get("fallen").quantity(share, positive)
	if a.Fallen >= 1 {
		f.get("fallen").faultf("%s leaves no current: give less than 100 %%, such as 25 %%", share.format(a.Fallen))
	}
	if a.Share > 1 {
		f.get("share").faultf("%s is more than all of the wall: give 100 %% or less", share.format(a.Share))
	}
	if a.Most < a.Least {
		f.of.faultf("most, %s, is below least, %s", density.format(a.Most), density.format(a.Least))
	}
	f.finish()
	return a
}

func readWeights(v value) Weights {
	if !v.given() {
		return Weights{}
	}
	f := v.fields()
	w := Weights{
		Floor: f.get("floor").quantityOr(1, weight, notNegative), Walls: f.get("walls").quantityOr(1, weight, notNegative),
		Roof:  f.get("roof").quantityOr(1, weight, notNegative),
		Lined: f.get("waterline").given(), Waterline: f.get("waterline").quantity(weight, notNegative),
		At: f.get("at").quantity(length, positive),
	}
	if w.At > 0 && !w.Lined {
		f.get("at").faultf("is where the waterline is: give waterline too, such as waterline: 3, or leave it out")
	}
	if w.Floor+w.Walls+w.Roof+w.Waterline == 0 {
		v.faultf("leave nothing that counts: give one above 0")
	}
	f.finish()
	return w
}

func readSpared(v value) Spared {
	f := v.fields()
	s := Spared{Name: f.need("name", "what it is, such as front seam").text(), Near: f.get("near").quantityOr(0.015, length, positive),
		Most: f.get("most").quantity(density, positive), Charge: f.get("charge").quantity(charge, positive)}
	for _, p := range f.need("line", "the points along it, such as [[0, -80, 20], [0, 80, 20]]").some("points, such as [[0, -80, 20], [0, 80, 20]]") {
		s.Line = append(s.Line, p.point())
	}
	if f.of.given() && !f.get("most").given() && !f.get("charge").given() {
		v.faultf("has no limit: give most, such as 10 A/m2, or charge, such as 200 A h/m2")
	}
	f.finish()
	return s
}

func (p *page) aim(a Aim) {
	p.line("aim:")
	row := func(key string, of kind, si float64) {
		if si > 0 {
			p.line("  %s: %s", key, of.format(si))
		}
	}
	row("charge", charge, a.Charge)
	row("least", density, a.Least)
	row("most", density, a.Most)
	row("share", share, a.Share)
	row("within", duration, a.Within)
	if a.LeastCharge {
		p.line("  prefer: charge")
	}
	if w := a.Weights; !w.IsZero() {
		var k keys
		k.add("floor: %s", weight.format(w.Floor))
		k.add("walls: %s", weight.format(w.Walls))
		k.add("roof: %s", weight.format(w.Roof))
		if w.Lined {
			k.add("waterline: %s", weight.format(w.Waterline))
		}
		k.positive("at", length, w.At)
		p.line("  weights: %s", k)
	}
	p.spare(a.Spare)
	row("session", duration, a.Session)
	row("fallen", share, a.Fallen)
}

func (p *page) spare(spare []Spared) {
	if len(spare) > 0 {
		p.line("  spare:")
	}
	for _, s := range spare {
		points := make([]string, len(s.Line))
		for i, at := range s.Line {
			points[i] = point(at)
		}
		var k keys
		k.add("name: %s", strconv.Quote(s.Name))
		k.add("line: [%s]", strings.Join(points, ", "))
		k.positive("near", length, s.Near)
		k.positive("most", density, s.Most)
		k.positive("charge", charge, s.Charge)
		p.line("    - %s", k)
	}
}
