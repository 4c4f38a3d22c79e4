package job

import (
	"fmt"
	"regexp"
	"strings"

	"evenwall/field/bath"
	"evenwall/field/bath/charger"
)

// Box is a supply in the words of its label and of the bench.
type Box struct {
	Kind       SupplyKind
	Label      Label
	Switch     float64 // A of the setting in use; 0: the label's
	Start      bool    // the switch stands at a setting for starting engines
	Voltage    float64 // open circuit as given, V; 0: by label or clips
	Resistance float64 // as given, ohm; leads beside it
	Limit      float64 // as given, A
	Clips      []charger.Loaded
	Leads      charger.Lead // Area 0: not said
	Lamp       charger.Lamp // in series; Volts 0: none
	Isolated   Answer       // from the mains and from everything else
	Fuse       float64      // by the positive, A; 0 when not said
}

// SupplyKind is what kind of supply it is.
type SupplyKind int

const (
	KindUnsaid   SupplyKind = iota
	PlainCharger            // transformer and rectifier, not smoothed
	SmartCharger            // waits for a battery
	BenchSupply             // regulated, with a current limit
	Battery
)

var supplyKinds = []option[SupplyKind]{{"plain", PlainCharger}, {"smart", SmartCharger}, {"bench", BenchSupply}, {"battery", Battery}}

// Label is what a supply's label says. The zero value is that the job does not say.
type Label struct{ Volts, Amps float64 }

// boxKeys are the keys that make a supply a Box.
func boxKeys() []string {
	return []string{"label", "kind", "switch", "clips", "leads", "lamp", "isolated", "fuse"}
}

// readBox reads what the label and the bench say, if anything, and takes the figures of s from it.
func (s *Supply) readBox(f *fields) {
	any := false
	for _, key := range boxKeys() {
		any = f.get(key).given() || any
	}
	if !any {
		return
	}
	faults := len(f.of.r.faults)
	b := &Box{
		Voltage: s.Voltage, Resistance: s.Resistance, Limit: s.Limit,
		Kind:     choice(f.get("kind"), supplyKinds),
		Label:    readLabel(f.get("label")),
		Leads:    readLeads(f.get("leads")),
		Lamp:     readLamp(f.get("lamp")),
		Isolated: choice(f.get("isolated"), answers),
		Fuse:     f.get("fuse").quantity(current, positive),
	}
	if at := f.get("switch"); at.raw() == "start" {
		b.Start = true
	} else {
		b.Switch = at.quantity(current, positive)
	}
	for _, entry := range f.get("clips").list("readings {volts, amps} at the clips") {
		c := entry.fields()
		b.Clips = append(b.Clips, charger.Loaded{
			Volts: c.need("volts", "what the meter shows at the clips").quantity(voltage, positive),
			Amps:  c.need("amps", "the current then; 0 A with nothing connected").quantity(current, notNegative)})
		c.finish()
	}
	s.Box = b
	if len(f.of.r.faults) > faults {
		return
	}
	source, err := b.Source()
	if err != nil {
		f.of.faultf("%v", err)
		return
	}
	s.Voltage, s.Limit = source.Volts.Mid, source.Limit
	s.Resistance = source.Resistance.Mid + b.LeadOhms().Mid
}

// label is such as "12 V 6 A".
var label = regexp.MustCompile(`^(.*?[Vv]) *[,/]? *([0-9.]+ *[Aa])$`)

func readLabel(v value) Label {
	text, ok := v.single("what the label says, such as 12 V 6 A")
	if !ok {
		return Label{}
	}
	m := label.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		v.faultf("%q is not read as a label: give volts and amps, such as 12 V 6 A", text)
		return Label{}
	}
	volts, errV := voltage.parse(strings.ToUpper(m[1]))
	amps, errA := current.parse(strings.ToUpper(m[2]))
	for _, err := range []error{errV, errA} {
		if err != nil {
			v.faultf("%v", err)
			return Label{}
		}
	}
	if volts <= 0 || amps <= 0 {
		v.faultf("%q is not above 0: give volts and amps, such as 12 V 6 A", text)
		return Label{}
	}
	return Label{volts, amps}
}

var gauge = regexp.MustCompile(`^(\d{1,2}) *AWG$`)

func readLeads(v value) charger.Lead {
	f := v.fields()
	if !v.given() {
		return charger.Lead{}
	}
	l := charger.Lead{Length: f.need("length", "that of one lead, such as 2 m").quantity(length, positive), Clips: 2}
	size := f.need("size", "the copper in one lead, such as 2.5 mm2 or 14 AWG")
	if m := gauge.FindStringSubmatch(strings.TrimSpace(size.raw())); m != nil {
		number := 0
		fmt.Sscan(m[1], &number)
		area, err := charger.GaugeArea(number)
		if err != nil {
			size.faultf("%v", err)
		}
		l.Area = area
	} else {
		l.Area = size.quantity(copper, positive)
	}
	if joints := f.get("clips"); joints.given() {
		l.Clips = joints.count(0)
	}
	f.finish()
	return l
}

func readLamp(v value) charger.Lamp {
	f := v.fields()
	if !v.given() {
		return charger.Lamp{}
	}
	l := charger.Lamp{
		Volts: f.need("volts", "as on the bulb, such as 12 V").quantity(voltage, positive),
		Watts: f.need("watts", "as on the bulb, such as 55 W").quantity(power, positive),
		Count: 1,
	}
	if n := f.get("count"); n.given() {
		l.Count = n.count(1)
	}
	f.finish()
	return l
}

// LeadOhms returns the resistance of leads and clips; zero when the job does not say.
func (b *Box) LeadOhms() bath.Range {
	if b.Leads.Area == 0 {
		return bath.Range{}
	}
	return b.Leads.Resistance(bath.Kelvin(20))
}

// Setting returns the amps of the setting in use, 0 when not known.
func (b *Box) Setting() float64 {
	if b.Switch > 0 {
		return b.Switch
	}
	return b.Label.Amps
}

// Source returns the supply without its leads. Voltage wins over clips, and both over the
// label. A box without any of them has no voltage.
func (b *Box) Source() (charger.Source, error) {
	s, err := b.bySaying()
	if b.Limit > 0 {
		s.Limit = b.Limit
	}
	if b.Kind == PlainCharger {
		s.Wave = charger.Rectified
	}
	if s.Continuous == 0 && b.Kind == PlainCharger {
		s.Continuous = b.Setting() / 2
	}
	return s, err
}

func (b *Box) bySaying() (charger.Source, error) {
	switch {
	case b.Kind == SmartCharger:
		return charger.Source{}, charger.ErrSmart
	case len(b.Clips) >= 2:
		return charger.FromReadings(b.Clips[0], b.Clips[1])
	case len(b.Clips) == 1 && b.Voltage > 0:
		return charger.FromReadings(charger.Loaded{Volts: b.Voltage}, b.Clips[0])
	case len(b.Clips) == 1:
		return charger.Source{}, fmt.Errorf("clips has one reading, %.3g V at %.3g A: give a second at another current, or voltage with nothing connected", b.Clips[0].Volts, b.Clips[0].Amps)
	case b.Voltage > 0:
		return charger.Source{Volts: bath.Exactly(b.Voltage), Resistance: bath.Exactly(b.Resistance)}, nil
	case b.Label == (Label{}):
		return charger.Source{Resistance: bath.Exactly(b.Resistance)}, nil
	case b.Kind == BenchSupply:
		return charger.Bench(b.Label.Volts, b.Label.Amps)
	case b.Kind == Battery:
		return battery(b.Label.Volts), nil
	}
	return charger.Plain(b.Label.Volts, b.Setting())
}

// battery returns a charged lead battery: 12.0 to 13.0 V at 12 V nominal behind 10 to
// 50 mohm (from memory).
func battery(nominal float64) charger.Source {
	cells := nominal / 12
	return charger.Source{Volts: bath.Range{Low: 12, Mid: 12.6, High: 13}.Scale(cells),
		Resistance: bath.Range{Low: 0.01, Mid: 0.02, High: 0.05}.Scale(cells)}
}
