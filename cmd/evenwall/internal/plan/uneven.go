package plan

import (
	"context"
	"fmt"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
	"evenwall/field/bath"
	"evenwall/field/electrode"
)

// warmer is by how much the liquid at the surface is taken as warmer than on the floor, K:
// common practice, no source.
const warmer = 10.0

// unevenBath returns by how much an uneven bath changes the figures, which are for an even
// one: gas that rises round the rods, gas that rises in all of the bath and gathers towards
// its surface, and a bath that is warmer above. All of it is solved on the coarse lattice.
func (t *Tank) unevenBath(ctx context.Context, anodes []job.Anode) ([]report.Uneven, error) {
	b, err := t.NewBasin(t.judgeSpacing())
	if err != nil {
		return nil, err
	}
	even, err := b.solve(ctx, anodes, forJudging)
	if err != nil {
		return nil, err
	}
	cases := []struct {
		what   string
		change func(*field.Problem)
	}{
		{"gas round the rods", func(p *field.Problem) {
			for i := range p.Anodes {
				curtain := electrode.UsualCurtain(p.Anodes[i].Rod.Radius)
				p.Anodes[i].Gas = &curtain
			}
		}},
		{"gas at the surface", func(p *field.Problem) { p.Layers = b.gassy(even.Current) }},
		{fmt.Sprintf("%g K warmer above", warmer), func(p *field.Problem) { p.Layers = b.warm() }},
	}
	var out []report.Uneven
	for _, c := range cases {
		p := b.problem(anodes)
		c.change(p)
		other, err := b.solveAs(ctx, p, anodes, forJudging)
		if err != nil {
			return nil, err
		}
		out = append(out, unevenness(c.what, even, other))
	}
	return out, nil
}

// unevenness compares the figures of two solves of one layout.
func unevenness(what string, even, other *Solved) report.Uneven {
	more := func(now, before float64) float64 {
		if before == 0 {
			return 0
		}
		return 100 * (now/before - 1)
	}
	percentile := func(q float64) float64 { return more(other.Even.Percentile(q), even.Even.Percentile(q)) }
	return report.Uneven{What: what, CurrentPercent: more(other.Current, even.Current),
		P5Percent: percentile(0.05), P50Percent: percentile(0.50), P95Percent: percentile(0.95)}
}

// gassy returns the conductivity of the bath with the gas of a current rising in it, as a
// share: bubbles come off walls and rods at all heights, so that their flow grows evenly up
// to the surface, where all of it passes.
func (b *Basin) gassy(current float64) func(z float64) float64 {
	swarm := electrode.UsualSwarm(bath.Evolved(current, b.Job.Bath.Kelvin(), bath.Atmosphere).Total(), b.surfaceArea())
	floor := b.Laid.Level - b.Filling.Height
	return func(z float64) float64 { return swarm.Factor((z - floor) / b.Filling.Height) }
}

// warm returns the conductivity of the bath with a temperature that rises evenly from the
// floor to the surface, as a share: the bath's own is that of its middle.
func (b *Basin) warm() func(z float64) float64 {
	middle := b.Laid.Level - b.Filling.Height/2
	at := b.Job.Bath.Kelvin()
	return func(z float64) float64 {
		return bath.TemperatureFactor(at+warmer*(z-middle)/b.Filling.Height) / bath.TemperatureFactor(at)
	}
}

// surfaceArea returns the area of the liquid's surface, m², by its cells.
func (b *Basin) surfaceArea() float64 {
	q := b.Laid.Liquid
	cells := 0
	for n := range q.Keys {
		if q.Point(int32(n)).Z > b.Laid.Level-q.Lattice.H {
			cells++
		}
	}
	return float64(cells) * q.Lattice.H * q.Lattice.H
}
