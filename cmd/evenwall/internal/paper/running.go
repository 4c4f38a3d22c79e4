package paper

import (
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/field/bath"
)

// running is the second page: with the current on, and after.
func (w *writer) running() {
	w.begin()
	w.stop()
	w.heading("4  Switch on")
	w.switchOn()
	w.heading("5  What the meters say")
	w.looks()
	w.heading("6  Gas, heat, water, rod")
	w.figures()
	w.heading("7  When to look, and after")
	w.after()
}

// stop is the box with the conditions at which to switch off.
func (w *writer) stop() {
	off := worstOff(w.Job, w.Stations)
	lines := []string{
		w.shorted(off),
		"a minus sign on either meter: the leads are reversed",
		fmt.Sprintf("bath or paint at %s; from %s on pause and let it cool", w.u.Text(units.Temperature, bath.PaintStop), w.u.Text(units.Temperature, bath.PaintCaution)),
		"a drip that grows, froth on the paint, the run-off hose blocked, liquid under the mark",
		"crackle, smell of hot paint or rubber, warm clips or leads, a blown fuse",
		"nobody there to watch: it runs attended or not at all",
	}
	const pad = 3.0
	top := w.y
	w.y += pad
	w.font("B", headSize+1)
	w.at(w.x+pad, w.y, "SWITCH OFF AT THE MAINS before anything is touched, at:")
	w.y += 7
	w.font("", w.body)
	w.x, w.w = w.x+pad, w.w-2*pad
	for _, line := range lines {
		w.bullet("", line)
	}
	w.x, w.w = w.x-pad, w.w+2*pad
	w.y += pad - 1
	w.rect(w.x, top, w.w, w.y-top, 1.1)
	w.y += 1.5
}

// shorted says what a short looks like.
func (w *writer) shorted(off bench.OffAt) string {
	volts := w.u.Text(units.Volts, off.VoltsUnder) + " from rod to tank with current flowing: a short"
	if limit := w.Job.Supply.Limit; limit > 0 && off.AmpsOver >= limit {
		return "under " + volts + "; the supply's limit holds the amps"
	}
	return fmt.Sprintf("over %s, or under %s (a dead one takes %s)", w.u.Text(units.Amps, off.AmpsOver), volts, w.u.Text(units.Amps, off.Short))
}

func worstOff(j *job.Job, stations []bench.Station) bench.OffAt {
	worst := stations[0].OffAt(j)
	for i := range stations[1:] {
		if o := stations[i+1].OffAt(j); o.AmpsOver > worst.AmpsOver {
			worst = o
		}
	}
	return worst
}

func (w *writer) switchOn() {
	s := &w.Stations[0]
	first, settled := s.First(w.Job), s.Settled(w.Job)
	w.tick("Tank negative, rod positive:", "read once more. Gas is flammable from the first minute in neck, froth and pockets, open or closed: face away from the filler.")
	w.tick("On at the mains.", fmt.Sprintf("First minutes, fresh rod: %s, %s from rod to tank.", w.u.Span(units.Amps, first.Amps), w.u.Span(units.Volts, first.Across)))
	w.tick("After ten minutes:", fmt.Sprintf("%s, %s from rod to tank, %s at the clips. Write it down on the station's page.",
		w.u.Range(units.Amps, settled.Amps), w.u.Range(units.Volts, settled.Across), w.u.Span(units.Volts, settled.Clips)))
	w.bullet("What limits it:", settled.Held.String()+".")
	for _, remark := range w.supplyRemarks(s) {
		w.bullet("", remark)
	}
}

// supplyRemarks says what the supply and its leads need.
func (w *writer) supplyRemarks(s *bench.Station) []string {
	var out []string
	b := w.Job.Supply.Box
	if b != nil && b.Kind == job.PlainCharger {
		out = append(out, "A plain charger is not smoothed: meters show means, the peaks are half as much again.")
	}
	if most := s.Overload(w.Job); most > 0 {
		out = append(out, fmt.Sprintf("That is more than the %s a charger of this label gives for hours: less soda, or a shorter bare rod.", w.u.Text(units.Amps, most)))
	}
	if !s.LeadsCarry(w.Job) {
		out = append(out, "The leads are thin for the most that may flow: take thicker ones.")
	}
	if b != nil && b.Lamp.Volts > 0 {
		out = append(out, "The lamp glows dull in normal work; full brightness is a short.")
	}
	return out
}

func (w *writer) looks() {
	fallen := bench.Fallen(w.Job)
	w.bullet("Amps down by "+percent(fallen)+", volts up:", "the rod is crusted. Off, wait, scrub it; then the amps are back. At the latest every 3 h.")
	w.bullet("Amps down, rod scrubbed, level lower:", "top up with plain water. The soda is not used up; the bath gets low, layered or dirty: off, stir with wood, or change it when sludge hides the rod.")
	w.bullet("No amps, full volts:", "a dry joint: off, scrape and clamp both clips.")
	w.bullet("Amps up, volts down:", "metal near metal: off, look for what has moved.")
	w.bullet("More than expected from the start:", "stronger or warmer bath than planned. Less: weaker or colder, a poor clip, plastic over bare rod.")
}

func percent(share float64) string { return units.Metric.Text(units.Percent, share) }

func (w *writer) figures() {
	gas := worstGas(w.Job, w.Stations)
	w.bullet("Gas:", fmt.Sprintf("%s of hydrogen with %s of oxygen, the mixture that lights most easily.%s", w.u.Range(units.GasRate, gas.Hydrogen), w.u.Text(units.GasRate, gas.Oxygen.Mid), w.held(gas)))
	h := worstHeat(w.Job, w.Stations)
	w.bullet("Heat:", fmt.Sprintf("%s into the bath, %s at first, tending to %s%s", w.u.Range(units.Watts, h.Power), w.u.Text(units.Warming, h.Rate.Mid), w.u.Span(units.Temperature, h.Steady), w.limits(h)))
	w.bullet("Water lost:", w.u.Span(units.Grams, h.Water)+" an hour.")
	w.bullet("Rod:", "what it loses at most stands on the station's page. It goes thin at its ends and at the level first.")
}

// wear says the most that a rod loses.
func (w *writer) wear(r bench.Wear) string {
	text := fmt.Sprintf("Loses at most %s, %s of its bare section is left at least.", w.u.Text(units.Grams, r.Lost), percent(r.Left))
	if r.Rods > 1 {
		text = fmt.Sprintf("Loses at most %s: change it at three quarters of its thickness, up to %d rods in all.", w.u.Text(units.Grams, r.Lost), r.Rods)
	}
	if r.Sludge > 0 {
		text += " Sludge up to " + w.u.Text(units.Grams, r.Sludge) + "."
	}
	return text
}

func numberOf(i int) string { return fmt.Sprint(i + 1) }

// held says what the places hold that gas collects in.
func (w *writer) held(g bench.Gas) string {
	if len(g.Held) == 0 {
		return ""
	}
	var parts []string
	for _, h := range g.Held {
		parts = append(parts, fmt.Sprintf("%s %s, %s, full after %s at the soonest", h.Place, w.u.Text(units.Volume, h.Volume), w.u.Text(units.Energy, h.Energy.High), w.soon(h.Soonest)))
	}
	return " What may hold it: " + strings.Join(parts, "; ") + "."
}

// soon writes a time in minutes, or in hours when it is long.
func (w *writer) soon(seconds float64) string {
	if seconds < 2*3600 {
		return w.u.Text(units.Minutes, seconds)
	}
	return w.u.Text(units.Hours, seconds)
}

// limits says when the bath gets to the temperatures of its paint.
func (w *writer) limits(h bench.Heat) string {
	caution, stop := w.u.Text(units.Temperature, bath.PaintCaution), w.u.Text(units.Temperature, bath.PaintStop)
	switch {
	case math.IsInf(h.ToCaution.Low, 1):
		return "; it does not get to " + caution + "."
	case math.IsInf(h.ToStop.Low, 1):
		return fmt.Sprintf("; %s after %s at the soonest.", caution, w.u.Text(units.Hours, h.ToCaution.Low))
	}
	return fmt.Sprintf("; %s after %s and %s after %s at the soonest.", caution, w.u.Text(units.Hours, h.ToCaution.Low), stop, w.u.Text(units.Hours, h.ToStop.Low))
}

func worstHeat(j *job.Job, stations []bench.Station) bench.Heat {
	worst := stations[0].Heat(j)
	for i := range stations[1:] {
		if h := stations[i+1].Heat(j); h.Power.High > worst.Power.High {
			worst = h
		}
	}
	return worst
}

func (w *writer) after() {
	w.bullet("Look", "after each session: off, wait ten minutes, lamp that cannot spark. “Turned black”: that wall has had current. “Loosened: wash out and look”: what comes off with water. Grey or orange still: no current there. The hours are known to a factor of three (common practice, no source): go by what you see.")
	w.tick("Off at the mains, wait ten minutes,", "then the clips, away from the opening. Rod out.")
	w.tick("Flush to the brim", "with water from a hose, so that water and not air drives the gas out; then drain. Twice.")
	w.tick("No vacuum, heat gun, flame or grinder", "on it, and no paint stove: hydrogen stays in seams and steel.")
	w.tick("Dry at once, then an oil film:", "wet steel flash-rusts within the hour. Springs and high-tensile studs that were in the bath are not used again unbaked.")
	w.tick("Bath and sludge", "go by local rules, never to a septic tank"+w.waste()+".")
}

// waste says what makes the bath a matter for the collector.
func (w *writer) waste() string {
	m := &w.Job.Materials
	var of []string
	if m.Tank == job.Terne || m.Seams == job.Soldered {
		of = append(of, "lead")
	}
	if m.Tank == job.Galvanised {
		of = append(of, "zinc")
	}
	if m.Held == job.Fuel || m.Held == job.Oil || m.Held == job.Spray {
		of = append(of, "what the tank held")
	}
	if len(of) == 0 {
		return ""
	}
	return "; with " + strings.Join(of, " and ") + " in it, to a collector"
}
