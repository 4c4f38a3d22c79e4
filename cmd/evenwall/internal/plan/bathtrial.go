package plan

import (
	"context"
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
)

// baths returns a case for each end of what the bath may be off by, and one for the rods'
// crust. A tank at the brim is not filled higher.
func (t *trial) baths(ctx context.Context) ([]odd, error) {
	var out []odd
	drift := t.Job.Search.Drift
	for _, by := range []float64{-drift.Level, drift.Level} {
		b, err := t.filledOff(ctx, by)
		if err != nil {
			return nil, err
		}
		if b != nil {
			out = append(out, odd{matter: ofLevel, station: -1, size: 1000 * math.Abs(by), set: setting{basin: b, filled: true},
				words: fmt.Sprintf("the level %.3g mm %s", 1000*math.Abs(by), word(by, "lower", "higher"))})
		}
	}
	for _, by := range []float64{-drift.Conductivity, drift.Conductivity} {
		if by != 0 {
			out = append(out, odd{matter: ofBath, station: -1, set: setting{basin: t.coarse.conducting(1 + by)},
				words: fmt.Sprintf("the bath conducts %.3g %% %s", 100*math.Abs(by), word(by, "less", "more"))})
		}
	}
	films, err := t.crusts(ctx)
	if err != nil {
		return nil, err
	}
	return append(out, odd{matter: ofCrust, station: -1, set: setting{basin: t.coarse, crust: films},
		words: "the rod crusted to half its first current all the time"}), nil
}

func word(by float64, below, above string) string {
	if by < 0 {
		return below
	}
	return above
}

// filledOff returns the tank filled to another level by so many metres on the coarse lattice's
// spacing; nil when it would run over, hold nothing, or is the same.
func (t *trial) filledOff(ctx context.Context, by float64) (*Basin, error) {
	height := t.Filling.Height + by
	if brim, err := t.Brim(); by == 0 || height <= 0 || err != nil || height > brim.Height+1e-6 {
		return nil, nil
	}
	other := *t.Tank
	other.Warnings = nil
	other.fillTo(height)
	if err := other.breathe(ctx); err != nil {
		return nil, err
	}
	return other.NewBasin(t.coarse.Laid.Liquid.Lattice.H)
}

// conducting returns the basin with a bath that conducts so many times as well.
func (b *Basin) conducting(times float64) *Basin {
	j := *b.Job
	j.Bath.Conductivity *= times
	return b.of(&j)
}

// Crust is sought to this share of the current asked for, in so many solves at most.
const (
	crustWithin = 0.01
	crustTries  = 5
)

// crusts returns for each station the film on its rods that halves its current, ohm m². The
// resistance of the circuit goes nearly straight with the film: the next try is on the line
// through the last and the bare rods.
func (t *trial) crusts(ctx context.Context) ([]float64, error) {
	films := make([]float64, len(t.stations))
	for s := range t.stations {
		anodes := t.stations[s].Anodes
		drive := t.Job.Supply.Voltage - t.Job.DeadVoltage(anodes)
		bare, err := t.coarse.solve(ctx, anodes, forJudging)
		if err != nil {
			return nil, err
		}
		if bare.Current <= 0 || drive <= 0 {
			continue
		}
		first, wanted := bare.Resistance()+t.Job.Supply.Resistance, 2*drive/bare.Current
		films[s] = (wanted - first) * metal(anodes)
		for range crustTries {
			now, err := t.coarse.solve(ctx, crusted(anodes, films[s]), forJudging)
			if err != nil {
				return nil, err
			}
			if now.Current <= 0 || math.Abs(2*now.Current/bare.Current-1) < crustWithin {
				break
			}
			films[s] *= (wanted - first) / (drive/now.Current - first)
		}
	}
	return films, nil
}

// metal returns the bare area of rods, m².
func metal(anodes []job.Anode) float64 {
	area := 0.0
	for i := range anodes {
		for _, b := range anodes[i].Bare {
			area += 2 * math.Pi * anodes[i].Radius * b.Length()
		}
	}
	return area
}

// crusted returns rods with a film on their metal besides their law, ohm m².
func crusted(anodes []job.Anode, film float64) []job.Anode {
	out := append([]job.Anode(nil), anodes...)
	for i := range out {
		out[i].Law.Film += film
	}
	return out
}
