package bench

import (
	"fmt"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
	"evenwall/field/bath/charger"
)

// Refusal is something in a job that no sheet is made for.
type Refusal struct {
	Key    string // of the job
	Reason string // with the way out where there is one
	Source string
}

// Text returns the refusal as a line of an error.
func (r Refusal) Text() string { return fmt.Sprintf("refused: %s (%s)", r.Reason, r.Source) }

const (
	practice = "common practice, no source"
	memory   = "from memory"
)

// Refusals returns everything in the job that no sheet is made for, in the order of a
// fixed list.
func Refusals(j *job.Job) []Refusal {
	var out []Refusal
	for _, rule := range []func(*job.Job) []Refusal{vessel, place, wall, contents, filler, additives, rodMetal, supply, zinc, clip} {
		out = append(out, rule(j)...)
	}
	return out
}

func one(key, source, format string, args ...any) []Refusal {
	return []Refusal{{Key: key, Reason: fmt.Sprintf(format, args...), Source: source}}
}

func vessel(j *job.Job) []Refusal {
	const key = "materials.vessel"
	switch j.Materials.Vessel {
	case job.PressureVessel, job.LPGTank, job.AirReceiver, job.HydraulicTank:
		return one(key, "pressure equipment rules, "+memory, "a vessel for pressure, gas, air or hydraulics takes up hydrogen and loses wall where nobody can inspect it, and is under rules of its own: leave it to whoever may test it")
	case job.AircraftTank:
		return one(key, "airworthiness rules, "+memory, "work on an aircraft's tank is for those who are licensed for it")
	case job.WalkIn:
		return one(key, "API RP 2015 and 2016 on tank entry, "+memory, "a vessel that a person can get into holds air that kills without warning, and more gas than this plan is made for")
	}
	return nil
}

// manhole is the width of an opening that a person may get in through, m (from memory).
const manhole = 0.40

// WalkInto returns the refusal of a tank that a person can get into by its sizes: capacity
// in m³.
func WalkInto(j *job.Job, capacity float64) []Refusal {
	const roomy = 0.5 // m³
	for i, o := range j.Tank.Openings {
		if o.Diameter >= manhole && capacity >= roomy {
			return one(fmt.Sprintf("tank.openings[%d].diameter", i), "API RP 2015 and 2016 on tank entry, "+memory,
				"the opening %s is %.0f mm wide and the tank holds %.0f L: a person can get in, and this plan is not made for that", o.Name, 1000*o.Diameter, 1000*capacity)
		}
	}
	return nil
}

func place(j *job.Job) []Refusal {
	switch j.Materials.Place {
	case job.OnVehicle:
		return one("materials.place", practice, "a tank on its vehicle or engine puts the current through bearings, wiring and lines, and its gas under the bodywork: take the tank out")
	case job.PlumbedIn:
		return one("materials.place", practice, "a tank that is plumbed in carries current and gas into its lines: part it from them and take it out")
	}
	return nil
}

func wall(j *job.Job) []Refusal {
	m := &j.Materials
	var out []Refusal
	switch m.Tank {
	case job.Aluminium, job.Magnesium:
		out = one("materials.tank", "corrosion of aluminium in alkali, abstract", "%s dissolves in an alkaline bath, with hydrogen, current or not", m.Tank)
	case job.Plastic, job.Rubber:
		out = one("materials.tank", practice, "%s carries no current: there is no wall to be the cathode", m.Tank)
	case job.MetalUnknown:
		out = one("materials.tank", practice, "the tank's metal is not known: try a magnet and a scratch, then say steel or not")
	case job.MildSteel, job.Galvanised, job.Terne, job.MetalUnsaid:
	default:
		out = one("materials.tank", practice, "the plan is for rusty mild steel, this tank is of %s", m.Tank)
	}
	if m.Coating == job.Lined || m.Coating == job.Varnished || m.Coating == job.CoatingUnknown {
		out = append(out, one("materials.coating", practice, "wall under a lining or varnish carries no current until that is stripped, so the figures for bare wall do not hold: strip it first, or find out")...)
	}
	return out
}

func contents(j *job.Job) []Refusal {
	m := &j.Materials
	const source = "UK HSE INDG314; AWS F4.1: no container is presumed empty of vapour"
	if m.Held == job.ContentsUnknown {
		return one("materials.held", source, "what the tank held is not known: find out, or treat it as the worst by local rules with a licensed person")
	}
	var missing []string
	if m.Emptied == job.No {
		missing = append(missing, "emptied")
	}
	if m.Flushed == job.No {
		missing = append(missing, "flushed")
	}
	if len(missing) == 0 {
		return nil
	}
	return one("materials."+missing[0], source, "the tank is not %s: that comes first, by local rules and, where it held fuel, with a licensed person", strings.Join(missing, " and not "))
}

// filler refuses rods through an opening that is closed.
func filler(j *job.Job) []Refusal {
	closed := map[string]bool{}
	open := false
	for _, o := range j.Tank.Openings {
		closed[o.Name] = o.Use != job.Open
		open = open || o.Use == job.Open
	}
	const reason = "gas must leave freely, and two parts hydrogen to one of oxygen in a closed vessel burst it"
	if !open {
		return one("tank.openings", "hydrogen in oxygen, 4 to 94 %: Coward and Jones, Bulletin 503, "+memory, "no opening is open: %s", reason)
	}
	for _, s := range Stations(j) {
		for _, a := range s.Anodes {
			if closed[a.Through] {
				return one("tank.openings", "hydrogen in oxygen, 4 to 94 %: Coward and Jones, Bulletin 503, "+memory,
					"rod %q hangs in the opening %s, which is closed: %s", a.Name, a.Through, reason)
			}
		}
	}
	return nil
}

// Stations returns the stations of a job, or its anodes as one.
func Stations(j *job.Job) []job.Station {
	if len(j.Stations) > 0 {
		return j.Stations
	}
	return []job.Station{j.First()}
}

func additives(j *job.Job) []Refusal {
	if j.Bath.Soda == nil {
		return nil
	}
	const key = "bath.soda.form"
	switch j.Bath.Soda.Bad {
	case job.TableSalt:
		return one(key, practice, "table salt makes chlorine at the rod and pits the steel: use washing soda")
	case job.Acid:
		return one(key, practice, "acid eats the steel, drives hydrogen into it, and foams with soda: use washing soda by itself")
	case job.Bleach:
		return one(key, practice, "bleach gives off chlorine and pits the steel: use washing soda")
	}
	return nil
}

func rodMetal(j *job.Job) []Refusal {
	const key = "materials.rod"
	switch m := j.Materials.Rod; m {
	case job.Stainless, job.ChromeAlloy, job.Plated:
		return one(key, "universal warning of restorers; chromium in TCLP at 5 mg/L, 40 CFR 261.24", "a rod that is %s may give chromate, or its plating, into the bath: poisonous, and not for any drain; use mild steel or graphite", m)
	case job.Galvanised, job.Zinc:
		return one(key, practice, "a %s rod gives its zinc into the bath and onto the wall: use bare mild steel or graphite", m)
	case job.Copper, job.Brass:
		return one(key, practice, "a %s rod dissolves and plates copper onto the wall, which rusts faster for it: use mild steel or graphite", m)
	case job.Lead, job.Terne:
		return one(key, "lead in TCLP at 5 mg/L, 40 CFR 261.24", "a rod with %s gives lead into the bath and the sludge: use mild steel or graphite", m)
	case job.MildSteel, job.Graphite, job.MetalUnsaid:
		return nil
	default:
		return one(key, practice, "a rod of %s is not planned for: use mild steel or graphite", m)
	}
}

func supply(j *job.Job) []Refusal {
	var out []Refusal
	volts := j.Supply.Voltage
	b := j.Supply.Box
	if b != nil {
		if s, err := b.Source(); err == nil {
			volts = s.Volts.High
		}
		if b.Start {
			out = append(out, one("supply.switch", "makers' labels: start settings are for seconds", "the start setting burns out in a bath: use a charging setting")...)
		}
		if b.Isolated == job.No {
			out = append(out, one("supply.isolated", "IEC 61558-1 and 61140", "a supply that is not isolated from the mains puts the mains on the tank: use an isolated one behind a residual-current switch")...)
		}
		if b.Kind == job.Battery && b.Fuse == 0 {
			out = append(out, one("supply.fuse", practice, "a battery without a fuse gives hundreds of amps into a short, with gas beside it: put a fuse by its positive, and say its size")...)
		}
	}
	if volts > charger.MostVolts {
		out = append(out, one("supply", "IEC 60598, as summarised", "the supply may stand at %.3g V, over %g V d.c.: use one of lower voltage", volts, charger.MostVolts)...)
	}
	return out
}

// zinc refuses lye with zinc, and aluminium in any such bath.
func zinc(j *job.Job) []Refusal {
	m := &j.Materials
	var out []Refusal
	lye := j.Bath.Soda != nil && j.Bath.Soda.Said && j.Bath.Soda.Bad == job.NoAdditive && j.Bath.Soda.Product.Salt() == bath.Hydroxide
	if lye && m.Tank == job.Galvanised {
		out = append(out, one("bath.soda.form", "zinc dissolves as zincate, "+memory, "lye dissolves galvanising, with hydrogen: use washing soda, or leave the tank")...)
	}
	for i, f := range m.Fittings {
		key := fmt.Sprintf("materials.fittings[%d]", i)
		switch {
		case lye && (f == job.Zinc || f == job.Galvanised):
			out = append(out, one(key, "zinc dissolves as zincate, "+memory, "lye dissolves zinc, with hydrogen: take the fitting out, or use washing soda")...)
		case f == job.Aluminium || f == job.Magnesium:
			out = append(out, one(key, "corrosion of aluminium in alkali, abstract", "%s dissolves in the bath: take the fitting out", f)...)
		}
	}
	return out
}

// clip refuses the way out of the gas as the place of the negative clip.
func clip(j *job.Job) []Refusal {
	where := strings.ToLower(j.NegativeAt)
	near := []string{"lip", "filler", "neck"}
	for _, o := range j.Tank.Openings {
		if o.Use == job.Open {
			near = append(near, strings.ToLower(o.Name))
		}
	}
	for _, word := range near {
		if where != "" && strings.Contains(where, word) {
			return one("negative_at", practice, "%q is where the gas comes out, and a clip sparks: take a bare lug or a bung's thread away from it", j.NegativeAt)
		}
	}
	return nil
}
