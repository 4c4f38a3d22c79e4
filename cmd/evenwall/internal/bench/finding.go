package bench

import (
	"fmt"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
)

// Sight is what the numbers of a reading look like.
type Sight int

const (
	Reversed Sight = iota
	Shorted
	Hot
	Warm
	DryJoint
	Crusted
	LowBath
	Stronger
	Weaker
	Expected
	Reached
)

// Finding is a reading that looks like something.
type Finding struct {
	Line    int
	Time    float64 // s, as in the rows
	Station int
	Sight   Sight
	Text    string // what it looks like, and what to do
}

// judge goes through the points; a sight that lasts is told once.
func (t *Trial) judge(j *job.Job, stations []Station) {
	g := t.judging(j, stations)
	for i := range t.Points {
		p := &t.Points[i]
		sight, text, seen := g.look(p)
		if !seen {
			continue
		}
		if old, told := g.last[p.Station]; told && old == sight {
			continue
		}
		g.last[p.Station] = sight
		t.Findings = append(t.Findings, Finding{p.Line, p.Time, p.Station, sight, text})
	}
	t.reached(stations)
}

// judging returns what readings are held against.
func (t *Trial) judging(j *job.Job, stations []Station) *judging {
	g := &judging{trial: t, job: j, last: map[int]Sight{}, reference: map[int]fresh{}, first: map[int]float64{}}
	for i := range stations {
		g.expected = append(g.expected, stations[i].Settled(j))
		g.starting = append(g.starting, stations[i].First(j))
		g.off = append(g.off, stations[i].OffAt(j))
	}
	return g
}

// spoilt marks the rows whose current went through metal or the wrong way: it loosens no rust.
func (t *Trial) spoilt(g *judging) {
	for i := range t.Points {
		p := &t.Points[i]
		if p.reversed() {
			p.Spoilt = true
		} else if p.HasAmps() {
			sight, _, seen := g.metal(p)
			p.Spoilt = seen && sight == Shorted
		}
	}
}

// reversed reports whether a reading has a minus sign.
func (p *Point) reversed() bool { return p.HasVolts() && p.Volts < 0 || p.HasAmps() && p.Amps < 0 }

// judging is judge at work.
type judging struct {
	trial     *Trial
	job       *job.Job
	expected  []Readings // settled, by station
	starting  []Readings // in the first minutes
	off       []OffAt
	last      map[int]Sight   // told last, by station
	reference map[int]fresh   // by station, since the rod was last scrubbed
	first     map[int]float64 // by station, settled amps with the first rod
}

// lateSettling is the age of a fresh rod, s, from which a reading is held against its first
// ones even when none of them had settled.
const lateSettling = 1800

// fresh is what a fresh rod takes, A, and whether it has settled.
type fresh struct {
	amps    float64
	settled bool
}

// look returns what a reading looks like; the gravest comes first.
func (g *judging) look(p *Point) (Sight, string, bool) {
	if p.reversed() {
		return Reversed, "a minus sign: the leads are reversed and the tank is being eaten. Off at the mains, tank to negative, read it with the meter", true
	}
	if p.HasKelvin() && p.Kelvin >= bath.PaintStop {
		return Hot, fmt.Sprintf("%.0f degC: off, and let it cool below %.0f degC", bath.Celsius(p.Kelvin), bath.Celsius(bath.PaintCaution)), true
	}
	if !p.HasAmps() {
		return 0, "", false
	}
	if sight, text, seen := g.metal(p); seen {
		return sight, text, true
	}
	if p.HasKelvin() && p.Kelvin >= bath.PaintCaution {
		return Warm, fmt.Sprintf("%.0f degC: pause, paint suffers from %.0f degC on", bath.Celsius(p.Kelvin), bath.Celsius(bath.PaintStop)), true
	}
	return g.current(p)
}

// slipped is how many times a supply's current into a short a reading is rather a slip of the pen.
const slipped = 1.5

// metal tells a short and a dry joint.
func (g *judging) metal(p *Point) (Sight, string, bool) {
	off, want := g.off[p.Station], g.expected[p.Station]
	low := p.HasVolts() && p.Volts < off.VoltsUnder && p.Amps > 0.2*want.Amps.Mid
	if p.Amps > slipped*off.Short {
		return Shorted, fmt.Sprintf("%.1f A, more than this supply drives through a short, %.1f A: is the row written right, point and columns? If it is, off at the mains, look for metal near metal", p.Amps, off.Short), true
	}
	if p.Amps > off.AmpsOver || low {
		return Shorted, fmt.Sprintf("%.1f A, over what these rods take: a short. Off at the mains, look for metal near metal", p.Amps), true
	}
	if p.HasVolts() && p.Amps < 0.1*want.Amps.Low && p.Volts > 0.9*want.Across.Low {
		return DryJoint, fmt.Sprintf("%.2f A at %.1f V: a dry joint. Off, scrape and clamp both clips", p.Amps, p.Volts), true
	}
	return 0, "", false
}

// current holds the amps against the rod's own settled ones, and these against the plan.
func (g *judging) current(p *Point) (Sight, string, bool) {
	at := p.Station
	switch {
	case p.Amps == 0:
		return 0, "", false
	case p.Scrubbed || p.Age == 0:
		delete(g.reference, at)
	}
	left := 1 - Fallen(g.job)
	reference, known := g.reference[at]
	if reference.settled || known && p.Age > lateSettling {
		if p.Amps <= left*reference.amps {
			return Crusted, fmt.Sprintf("%.1f A, %.1f A when the rod was fresh: the rod is crusted. Off, wait, scrub it", p.Amps, reference.amps), true
		}
		return 0, "", false
	}
	g.reference[at] = fresh{p.Amps, p.Age >= settling}
	first, again := g.first[at]
	switch {
	case again && p.Amps <= left*first:
		return LowBath, fmt.Sprintf("%.1f A after scrubbing, %.1f A at first: the bath is low, layered or dirty. Top up with plain water, stir, or change it", p.Amps, first), true
	case again:
		return Expected, "the amps are back after scrubbing", true
	case p.Age < settling:
		return against(p, g.starting[at])
	}
	g.first[at] = p.Amps
	return against(p, g.expected[at])
}

// against holds a reading of a fresh rod against the plan's.
func against(p *Point, want Readings) (Sight, string, bool) {
	band := fmt.Sprintf("%.1f to %.1f A", want.Amps.Low, want.Amps.High)
	switch {
	case p.Amps > want.Amps.High:
		return Stronger, fmt.Sprintf("%.1f A where %s were expected: the bath is stronger or warmer than planned", p.Amps, band), true
	case p.Amps < want.Amps.Low:
		return Weaker, fmt.Sprintf("%.1f A where %s were expected: the bath is weaker or colder than planned, a clip is poor, or the rod not fresh", p.Amps, band), true
	}
	return Expected, fmt.Sprintf("%.1f A, as expected (%s)", p.Amps, band), true
}

// reached adds where a station has its planned charge.
func (t *Trial) reached(stations []Station) {
	told := map[int]bool{}
	for i := range t.Points {
		p := &t.Points[i]
		planned := t.Made[p.Station].Planned
		if told[p.Station] || planned == 0 || p.Charge < planned {
			continue
		}
		told[p.Station] = true
		t.Findings = append(t.Findings, Finding{p.Line, p.Time, p.Station, Reached,
			fmt.Sprintf("%.0f A h, the planned charge is reached: off, wash out and look", p.Charge)})
	}
}
