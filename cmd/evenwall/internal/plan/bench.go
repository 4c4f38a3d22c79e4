package plan

import (
	"context"
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath/charger"
	"evenwall/field/station"
)

// lamplit is a basin with the lamp that stands in series with it.
type lamplit struct {
	*Basin
	lamp *charger.Lamp
}

func (b *Basin) withLamp(j *job.Job) lamplit {
	if j.Supply.Box != nil && j.Supply.Box.Lamp.Volts > 0 {
		return lamplit{b, &j.Supply.Box.Lamp}
	}
	return lamplit{b, nil}
}

// solveAtBench solves a station with everything at the middle of its range, and returns with it
// the resistance of the liquid alone, ohm. A lamp counts as the resistance that it has at the
// current that settles.
func (l lamplit) solveAtBench(ctx context.Context, s job.Station) (*Solved, float64, error) {
	liquid, err := l.liquidOhms(ctx, s.Anodes)
	if err != nil {
		return nil, 0, err
	}
	solved, err := l.Solve(ctx, s.Anodes)
	if err != nil || l.lamp == nil || solved.Current == 0 {
		return solved, liquid, err
	}
	j := *l.Job
	circuit := charger.Circuit{Volts: j.Supply.Voltage, Source: j.Supply.Resistance, Limit: j.Supply.Limit, Lamp: l.lamp,
		Dead: j.DeadVoltage(s.Anodes), Bath: solved.Resistance()}
	reading := circuit.Operate()
	if reading.Amps > 0 {
		j.Supply.Resistance += reading.Lamp / reading.Amps
		solved, err = l.of(&j).Solve(ctx, s.Anodes)
	}
	return solved, liquid, err
}

// of returns the basin for another job in the same tank: other electrode laws, another supply,
// another conductivity.
func (b *Basin) of(j *job.Job) *Basin {
	other, tank := *b, *b.Tank
	tank.Job = j
	other.Tank = &tank
	return &other
}

// liquidOhms returns the resistance between rods and wall without any electrode law, ohm.
func (b *Basin) liquidOhms(ctx context.Context, anodes []job.Anode) (float64, error) {
	j := *b.Job
	j.Wall = job.Law{}
	j.Supply = job.Supply{Voltage: 1, DeadGiven: true}
	bare := append([]job.Anode(nil), anodes...)
	for i := range bare {
		bare[i].Law = job.Law{}
	}
	s, err := b.of(&j).Solve(ctx, bare)
	if err != nil {
		return 0, err
	}
	return s.Resistance(), nil
}

// takeFirstReading sets the conductivity to that which gives the first amps at the first volts,
// where the job has them: they win over recipe and meter.
func (w *work) takeFirstReading(ctx context.Context, b *Basin, s job.Station) error {
	first := w.job.Bath.First
	if first == (job.Reading{}) || len(w.stations) > 0 {
		b.Tank.Job = w.job
		return nil
	}
	j := *w.job
	if j.Bath.Conductivity == 0 {
		j.Bath.Conductivity = 0.5 // S/m, to begin from
	}
	kappa, err := b.fitted(ctx, &j, s.Anodes, first)
	if err != nil {
		return w.job.Blame(job.Fault{Key: "bath.first_reading", Text: err.Error()})
	}
	j = *w.job
	j.Bath.Conductivity, j.Bath.FromRecipe, j.Bath.Meter = kappa, false, job.Meter{}
	w.job = &j
	b.Tank.Job = &j
	b.Tank.warn("bath.first_reading is taken: %.1f V and %.2f A with these rods mean %.2f mS/cm", first.Volts, first.Amps, 10*kappa)
	return nil
}

// fitted returns the conductivity, S/m, at which the rods take the amps of a reading at its volts.
// The liquid's part of the volts goes as one over it, so a few rounds settle it.
func (b *Basin) fitted(ctx context.Context, j *job.Job, anodes []job.Anode, reading job.Reading) (float64, error) {
	dead := j.DeadVoltage(anodes)
	if reading.Volts <= dead {
		return 0, fmt.Errorf("%.2f V is no more than the %.2f V that go at the metal: the reading says nothing about the liquid, so look for a dry joint", reading.Volts, dead)
	}
	j.Supply = job.Supply{Voltage: reading.Volts, Dead: dead, DeadGiven: true}
	const rounds, close, least, most = 6, 1e-3, 1e-3, 50
	for range rounds {
		s, err := b.of(j).Solve(ctx, anodes)
		if err != nil {
			return 0, err
		}
		ratio := reading.Amps / s.Current
		j.Bath.Conductivity *= ratio
		if k := j.Bath.Conductivity; k < least || k > most {
			return 0, fmt.Errorf("%.2f V and %.2f A would take a conductivity of %.2g S/m: read again, from rod to tank and with the current on", reading.Volts, reading.Amps, k)
		}
		if math.Abs(ratio-1) < close {
			break
		}
	}
	return j.Bath.Conductivity, nil
}

// finish returns the time until the aim's share of the wall that these rods reach has its charge,
// s; 0 when it never has.
func (s *Solved) finish() float64 {
	aim := aimOf(s.Basin.Job.Aim)
	p := station.Patches{Area: s.Basin.areas(), Weight: s.Basin.weights()}
	rates := make([]float64, len(s.Density))
	for i, d := range s.Density {
		rates[i] = aim.Rate(d)
		p.Reachable = append(p.Reachable, rates[i] > 0)
	}
	return p.Finish(aim, rates).Seconds
}
