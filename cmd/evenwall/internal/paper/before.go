package paper

import (
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/field/bath"
	"evenwall/geometry"
)

// writer puts a sheet's words on its pages.
type writer struct {
	*page
	*Sheet
	u units.System
}

// before is the first page: everything up to the switch. The picture takes what room there is.
func (w *writer) before(pictureHeight float64) {
	w.begin()
	w.polarity()
	w.picture(pictureHeight)
	w.heading("1  Dry, tank empty")
	w.dry()
	w.heading("2  Fill")
	w.fill()
	w.heading("3  Connect, supply off at the mains")
	w.connect()
}

// polarity is the first thing on the sheet.
func (w *writer) polarity() {
	const head, pad = 12.6, 3.0
	w.font("", w.body)
	lines := w.wrap("Before every start, clips apart and away from the tank, supply on: red probe on the rod's clip, black on the tank's; the volts must come without a minus sign. Reversed leads eat the tank. Supply off, clip on, tick.", w.w-2*pad)
	height := head + float64(len(lines))*w.step() + 2.4
	w.rect(w.x, w.y, w.w, height, 1.1)
	w.rect(w.x+pad, w.y+pad+0.5, 7, 7, 0.8)
	w.font("B", bigSize)
	w.at(w.x+pad+10, w.y+pad, "Tank NEGATIVE −     Rod POSITIVE +")
	w.font("", w.body)
	y := w.y + head
	for _, line := range lines {
		w.at(w.x+pad, y, line)
		y += w.step()
	}
	w.y += height + 2
}

func (w *writer) dry() {
	if w.Job.Materials.Held == job.Fuel {
		w.tick("This tank held fuel.", "Local rules and a licensed person come before anything on this sheet, and nothing on it tells how that work goes. Released by ______________________ on ____________")
	}
	w.tick("Rod to tank:", "hang the rod as drawn, sleeves on, and wiggle it"+w.turnWords()+". The ohmmeter must show open. Under 1 ohm is a short: find it before any water goes in. A wet reading misleads: rust, rod and soda make a cell, and the meter wanders.")
	if loose := w.Job.Materials.Loose; len(loose) > 0 {
		w.tick("Loose inside: "+strings.Join(loose, ", ")+".", "Take it out, or meter from it to bare metal of the tank: under 1 ohm. What hangs on neither pole is eaten where the current leaves it.")
	} else {
		w.tick("Nothing loose inside:", "a chain, strainer or baffle that stays reads under 1 ohm to bare metal.")
	}
}

// turnWords says what is wiggled besides where a rod is bent.
func (w *writer) turnWords() string {
	for i := range w.Stations {
		for k := range w.Stations[i].Anodes {
			if isBent(&w.Stations[i].Anodes[k]) {
				return ", a bent one about itself too"
			}
		}
	}
	return ""
}

func (w *writer) fill() {
	s := &w.Stations[0]
	mass := s.Mass(w.Job)
	w.tick("Stand:", fmt.Sprintf("in a tray; %s. Filled it weighs about %s.", w.props(s.Attitude), w.u.Range(units.Mass, mass)))
	w.tick("A day with plain water", "to the level, nothing connected. Rust may be all that seals a pinhole: look for drips, then start.")
	w.recipe(s)
	w.tick("Level:", fmt.Sprintf("%s, %s above the lowest inside point; %s of liquid%s",
		w.levelWords(), w.u.Text(units.Length, w.Outline.Height), w.u.Text(units.Volume, s.Volume), w.above()))
}

// above ends what is said of the level with what is above it.
func (w *writer) above() string {
	switch why := w.Job.Bath.Headspace; {
	case why != "":
		return ". Steel stays above it: " + why + "."
	case w.Job.Bath.Level.By == job.Brim:
		return ", no air under the steel."
	}
	return "."
}

// levelWords says how high the liquid stands by what a hand can measure from: the lowest point of
// the rim of the opening that the first rod hangs in.
func (w *writer) levelWords() string {
	if w.Job.Bath.Level.By == job.Brim {
		return "to the brim"
	}
	anodes := w.Stations[0].Anodes
	if len(anodes) == 0 || w.opening(anodes[0].Through) == nil {
		return "as drawn"
	}
	o, surface := w.opening(anodes[0].Through), w.Outline.Surface
	sine := math.Sqrt(math.Max(0, 1-math.Pow(o.Axis.Dot(surface.Normal), 2)))
	below := surface.Height(o.Centre) - o.Diameter/2*sine
	return fmt.Sprintf("%s plumb below the lowest of the %s's rim", w.u.Text(units.Length, below), o.Name)
}

// props says how the tank is propped.
func (w *writer) props(a job.Attitude) string {
	sides, up := w.Job.Tank.Sides, a.Up()
	var parts []string
	add := func(side geometry.Vec, length float64) {
		sine := up.Dot(side)
		if math.Abs(sine) < 1e-4 {
			return
		}
		high := side.Scale(math.Copysign(1, sine))
		parts = append(parts, fmt.Sprintf("the %s %s higher than the %s (%.1f°)", sides.Facing(high),
			w.u.Text(units.Length, length*math.Abs(sine)), sides.Facing(high.Scale(-1)), math.Asin(math.Abs(sine))*180/math.Pi))
	}
	add(sides.Front(), sides.Length(w.Outline.Bounds))
	add(sides.Left(), sides.Width(w.Outline.Bounds))
	if len(parts) == 0 {
		return "level, as it lies"
	}
	return strings.Join(parts, " and ")
}

// recipe says what is weighed out.
func (w *writer) recipe(s *bench.Station) {
	r, ok := bench.RecipeOf(w.Job, s.Volume)
	kappa := w.Job.Bath.Range()
	if !ok {
		text := fmt.Sprintf("as measured, %s. Goggles and gloves.", w.u.Range(units.Conductivity, kappa))
		if forms := bench.FormsFor(w.Job, s.Volume); forms != nil {
			text += " So much conducts alike: " + w.forms(forms) + "."
		}
		w.tick("Bath:", text)
		return
	}
	if r.Said {
		w.tick("Weigh out "+w.u.Text(units.Grams, r.Mass.Mid)+" of "+productName(r.Product),
			fmt.Sprintf("for %s of liquid (%s).%s Dissolve it in a bucket, pour it in, stir with wood.", w.u.Text(units.Volume, s.Volume), w.u.Text(units.Dose, r.Mass.Mid/s.Volume), spoons(r)))
	} else {
		w.tick("Read the bag, then weigh out", w.forms(r.Forms)+". If the bag does not say, begin with the least and measure: a spoon hides a factor of four. Dissolve it in a bucket.")
	}
	text := fmt.Sprintf("%s It should then conduct %s at %s.", bench.Caution(w.Job), w.u.Range(units.Conductivity, kappa), w.u.Text(units.Temperature, w.Job.Bath.Kelvin()))
	if r.Settles {
		text += " That is more soda than the water takes up: crystals will stay on the floor."
	}
	w.text(boxSize+2, text)
	w.y += 0.6
}

// forms lists the forms of washing soda with their masses.
func (w *writer) forms(forms []bench.Form) string {
	parts := make([]string, len(forms))
	for i, f := range forms {
		parts[i] = w.u.Text(units.Grams, f.Mass) + " " + f.Product.String()
	}
	return strings.Join(parts, ", or ")
}

func productName(p bath.Product) string {
	if p.Salt() == bath.Carbonate {
		return "washing soda, " + p.String() + ","
	}
	return p.String()
}

func spoons(r bench.Recipe) string {
	if r.Spoons.High == 0 {
		return " No spoons: weigh it."
	}
	return fmt.Sprintf(" By level tablespoons %.0f to %.0f, so weigh it.", r.Spoons.Low, r.Spoons.High)
}

func (w *writer) connect() {
	first := &w.Stations[0]
	gas := worstGas(w.Job, w.Stations)
	spark := w.u.Text(units.Distance, gas.Spark)
	w.tick("Negative clip", "on bright metal: "+w.Job.NegativeAt+". Never on the filler's lip.")
	w.tick("Positive clip", "on the rod's dry end, fuse "+fuse(w.Job, first)+" beside the positive, ammeter in line.")
	w.tick("Supply:", fmt.Sprintf("%s. Above the tank and to one side, %s or more from the filler. Clips are made and broken with it off at the mains.", supplyWords(w.u, w.Job), spark))
	w.tick("Air:", fmt.Sprintf("outdoors. Under a roof fresh air of at least %s (battery-room form %s, 1 %% form %s: both are for hydrogen alone, so lower bounds). No flame or spark within %s.",
		w.u.Text(units.Flow, gas.Air.Least()), w.u.Text(units.Flow, gas.Air.Battery), w.u.Text(units.Flow, gas.Air.Percent), spark))
	w.tick("Froth:", w.riser()+" Mask the paint round it.")
	w.tick("People:", "goggles, gloves, eyewash or a water bottle at hand; children and pets out of reach.")
	for _, warning := range bench.Warnings(w.Job) {
		w.bullet("", w.u.Summary(warning))
	}
}

// riser says what stands on the filler.
func (w *writer) riser() string {
	r := w.Job.Riser
	if r.Height == 0 {
		return "a plastic riser on the filler, open at the top, with a run-off hose to a bucket."
	}
	text := fmt.Sprintf("plastic riser on the filler, %s high, %s bore, open at the top, run-off hose to a bucket.", w.u.Text(units.Length, r.Height), w.u.Text(units.Length, r.Bore))
	switch up, leaves := w.leavesRiser(); {
	case leaves && up == 0:
		text += " A rod meets its wall at the rim already: take a wider bore, slot it along the rod and tape the slot."
	case leaves:
		text += fmt.Sprintf(" A leaning rod meets its wall %s above the rim: slot it from there up, and tape the slot round the rod.", w.u.Text(units.Length, up))
	}
	return text
}

// leavesRiser returns how far above the rim, m, the first rod of any station comes through the
// wall of the riser, false when none does.
func (w *writer) leavesRiser() (up float64, leaves bool) {
	r := w.Job.Riser
	up = r.Height
	for i := range w.Stations {
		for k := range w.Stations[i].Anodes {
			a := &w.Stations[i].Anodes[k]
			o := w.opening(a.Through)
			if o == nil {
				continue
			}
			if at, ok := passes(&a.Rod, o); ok {
				up = math.Min(up, insideBore(a, o, at, r))
			}
		}
	}
	return up, up < r.Height
}

// insideBore returns how far up a riser on an opening a rod that passes its rim at a point stays
// within the bore, m.
func insideBore(a *job.Anode, o *Opening, at geometry.Vec, r job.Riser) float64 {
	const step, slack = 0.001, 0.0005 // m
	n := len(a.Path)
	leg := a.Path[n-1].Sub(a.Path[n-2]).Unit()
	rise := leg.Dot(o.Axis)
	aside, half := leg.Scale(1/rise).Sub(o.Axis), math.Max(a.Sleeve, a.Radius)/rise
	for up := 0.0; up < r.Height; up += step {
		if at.AddScaled(aside, up).Dist(o.Centre)+half > r.Bore/2+slack {
			return up
		}
	}
	return r.Height
}

func fuse(j *job.Job, s *bench.Station) string {
	if b := j.Supply.Box; b != nil && b.Fuse > 0 {
		return fmt.Sprintf("of %g A", b.Fuse)
	}
	sizes := []float64{2, 3, 5, 7.5, 10, 15, 20, 30}
	need := s.First(j).Amps.High
	for _, size := range sizes {
		if size >= need {
			return fmt.Sprintf("of %g A", size)
		}
	}
	return fmt.Sprintf("of %.0f A or more", need)
}

// supplyWords says which supply it is.
func supplyWords(u units.System, j *job.Job) string {
	b := j.Supply.Box
	text := ""
	if b != nil {
		text = map[job.SupplyKind]string{job.PlainCharger: "a plain charger, ", job.BenchSupply: "a bench supply, ", job.Battery: "a battery, "}[b.Kind]
		if b.Label.Volts > 0 {
			text += fmt.Sprintf("labelled %g V %g A, ", b.Label.Volts, b.Label.Amps)
		}
		if b.Switch > 0 {
			text += fmt.Sprintf("switched to %g A, ", b.Switch)
		}
	}
	if b == nil || b.Label.Volts == 0 {
		text += u.Text(units.Volts, j.Supply.Voltage) + ", "
	}
	if j.Supply.Limit > 0 && (b == nil || b.Label.Amps != j.Supply.Limit) {
		text += "limited to " + u.Text(units.Amps, j.Supply.Limit) + ", "
	}
	if b != nil && b.Lamp.Volts > 0 {
		text += fmt.Sprintf("a %g V %g W lamp in series", b.Lamp.Volts, float64(b.Lamp.Count)*b.Lamp.Watts)
	}
	return strings.TrimSuffix(strings.TrimSpace(text), ",")
}

// worstGas returns the gas of the station with the most current.
func worstGas(j *job.Job, stations []bench.Station) bench.Gas {
	worst := stations[0].Gas(j)
	for i := range stations[1:] {
		if g := stations[i+1].Gas(j); g.Hydrogen.High > worst.Hydrogen.High {
			worst = g
		}
	}
	return worst
}
