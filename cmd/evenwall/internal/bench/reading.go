package bench

import (
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
	"evenwall/field/bath/charger"
)

// What the circuit's parts may be off by.
const (
	deadError  = 0.3  // V either way, of the dead voltage (reference for steel rods at working current)
	fieldError = 0.02 // of the computed resistance
	mostVoid   = 0.15 // further resistance by gas in the liquid, at most (from memory)
)

// Fresh steel takes 0.5 to 1.5 V less than settled steel in its first minutes (from memory).
func freshness() bath.Range { return bath.Range{Low: -1.5, Mid: -1.0, High: -0.5} }

// Readings are what the meters should show.
type Readings struct {
	Amps   bath.Range // A
	Clips  bath.Range // at the supply's clips, V
	Across bath.Range // from rod to tank, V
	Lamp   bath.Range // across the lamp, V
	Held   charger.Held
}

// Source returns the job's supply with its ranges, and its leads.
func Source(j *job.Job) (s charger.Source, leads bath.Range, lamp *charger.Lamp) {
	b := j.Supply.Box
	if b == nil {
		return charger.Source{Volts: bath.Exactly(j.Supply.Voltage), Resistance: bath.Exactly(j.Supply.Resistance), Limit: j.Supply.Limit}, leads, nil
	}
	s, _ = b.Source() // was read without a fault
	if b.Lamp.Volts > 0 {
		lamp = &b.Lamp
	}
	return s, b.LeadOhms(), lamp
}

// circuit returns the loop of a station, its dead voltage shifted by shift, V.
func (s *Station) circuit(j *job.Job, shift bath.Range) charger.Loop {
	source, leads, lamp := Source(j)
	l := charger.Loop{Source: source, Leads: leads, Lamp: lamp, Dead: bath.Exactly(s.Dead).Plus(shift), Bath: s.ohms(j)}
	l.Dead.Low = max(l.Dead.Low, 0)
	l.Dead.Mid = max(l.Dead.Mid, 0)
	return l
}

// ohms returns the cell's resistance beyond the dead voltage: the liquid goes as one over its
// conductivity, the electrode laws stay.
func (s *Station) ohms(j *job.Job) bath.Range {
	if s.Amps == 0 {
		return bath.Exactly(s.Liquid)
	}
	kappa := j.Bath.Range()
	laws := max(s.Across/s.Amps-s.Liquid, 0)
	low, high := 1.0, 1.0
	if kappa.Mid > 0 && kappa.Low > 0 && j.Bath.First == (job.Reading{}) {
		low, high = j.Bath.Conductivity/kappa.High, j.Bath.Conductivity/kappa.Low
	}
	return bath.Range{
		Low:  laws + s.Liquid*low*(1-fieldError),
		Mid:  laws + s.Liquid,
		High: laws + s.Liquid*high*(1+fieldError)*(1+mostVoid),
	}
}

func readingsOf(l charger.Loop) Readings { return spanned(l.Readings()) }

// spanned returns the bands over three readings.
func spanned(low, mid, high charger.Reading) Readings {
	band := func(of func(charger.Reading) float64) bath.Range {
		a, b, c := of(low), of(mid), of(high)
		return bath.Range{Low: min(a, b, c), Mid: b, High: max(a, b, c)}
	}
	return Readings{
		Amps:   band(func(r charger.Reading) float64 { return r.Amps }),
		Clips:  band(func(r charger.Reading) float64 { return r.Clips }),
		Across: band(func(r charger.Reading) float64 { return r.Across }),
		Lamp:   band(func(r charger.Reading) float64 { return r.Lamp }),
		Held:   mid.Held,
	}
}

// Settled returns the readings once the rod has settled, some ten minutes in.
func (s *Station) Settled(j *job.Job) Readings {
	return readingsOf(s.circuit(j, bath.Range{Low: -deadError, High: deadError}))
}

// First returns the readings of the first minutes with a fresh or newly scrubbed rod.
func (s *Station) First(j *job.Job) Readings {
	shift := freshness()
	if j.Materials.Rod == job.Graphite {
		shift = bath.Range{}
	}
	return readingsOf(s.circuit(j, shift.Plus(bath.Range{Low: -deadError, High: deadError})))
}

// Crusted returns the readings of a rod that is to be scrubbed: the settled current has
// fallen by the share of the job, and the volts from rod to tank have risen for it.
func (s *Station) Crusted(j *job.Job) Readings {
	l := loop{s.circuit(j, bath.Range{Low: -deadError, High: deadError})}
	settled := readingsOf(l.Loop)
	left := 1 - Fallen(j)
	v, inside := l.Source.Volts, l.Source.Resistance
	amps := settled.Amps.Scale(left)
	low, mid, high := l.behind(v.Low, inside.High, l.Leads.High, amps.Low), l.behind(v.Mid, inside.Mid, l.Leads.Mid, amps.Mid), l.behind(v.High, inside.Low, l.Leads.Low, amps.High)
	return spanned(low, mid, high)
}

// loop is a circuit whose current is known.
type loop struct{ charger.Loop }

// behind returns the reading at a current, A, whatever the bath is then: the supply's open
// volts less what its inside, the leads and the lamp take.
func (l loop) behind(volts, inside, leads, amps float64) charger.Reading {
	r := charger.Reading{Amps: amps, Held: charger.HeldByVoltage}
	if l.Lamp != nil {
		r.Lamp, _ = l.Lamp.Drop(amps)
	}
	r.Clips = volts - inside*amps
	r.Across = r.Clips - leads*amps - r.Lamp
	return r
}

// OffAt are the readings at which to switch off at once.
type OffAt struct {
	AmpsOver   float64 // A
	VoltsUnder float64 // from rod to tank, V, with current flowing
	Short      float64 // what the supply drives through a short, A
}

// OffAt returns the readings at which to switch off: half as much again as the most that is
// expected, and volts that no bath shows while it conducts.
func (s *Station) OffAt(j *job.Job) OffAt {
	source, leads, lamp := Source(j)
	short := charger.Circuit{Volts: source.Volts.Mid, Source: source.Resistance.Mid, Leads: leads.Mid, Limit: source.Limit, Lamp: lamp, Bath: 1e-3}.Operate()
	most := s.First(j).Amps.High
	const splitting = 1.0 // V; water does not split under 1.23 V
	over := 1.5 * most
	if source.Limit > 0 {
		over = min(over, 1.05*source.Limit)
	}
	return OffAt{AmpsOver: over, VoltsUnder: splitting, Short: short.Amps}
}

// Overload returns what the supply should be asked for over hours, A, when the settled
// current is likely to be more; 0 otherwise.
func (s *Station) Overload(j *job.Job) float64 {
	source, _, _ := Source(j)
	if source.Continuous > 0 && s.Settled(j).Amps.Mid > source.Continuous*(1+1e-9) && source.Limit == 0 {
		return source.Continuous
	}
	return 0
}

// LeadsCarry reports whether the leads carry the most that may flow, by practice; true when
// the job does not say what they are.
func (s *Station) LeadsCarry(j *job.Job) bool {
	b := j.Supply.Box
	return b == nil || b.Leads.Area == 0 || b.Leads.Carries(s.First(j).Amps.High)
}
