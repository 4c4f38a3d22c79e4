package plan

import (
	"context"
	"math"
	"sync"
	"time"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
	"evenwall/field/electrode"
	"evenwall/field/multigrid"
)

// Basin is a tank on a lattice, ready for rods.
type Basin struct {
	*Tank
	Laid     *field.Filled
	recovery func() *field.Recovery
}

// NewBasin lays the tank on a lattice of the given spacing, m; 0: the default.
func (t *Tank) NewBasin(spacing float64) (*Basin, error) {
	return t.layOn(field.Grid{Spacing: spacing})
}

// layOn lays the tank on a lattice; a spacing of 0 means the default. The weights that turn
// potentials into wall current are found meanwhile.
func (t *Tank) layOn(g field.Grid) (*Basin, error) {
	if g.Spacing == 0 {
		g.Spacing = field.DefaultSpacing(t.Filling.Volume)
	}
	f, err := field.Fill(t.Vessel, t.Filling, g, t.dryAt())
	if err != nil {
		return nil, t.Job.Blame(job.Fault{Key: "tank", Text: err.Error()})
	}
	b := &Basin{t, f, sync.OnceValue(f.Recovery)}
	go b.recovery()
	return b, nil
}

// Recovery returns the weights that turn potentials into wall current.
func (b *Basin) Recovery() *field.Recovery { return b.recovery() }

// Solved is what a station's rods do in a basin.
type Solved struct {
	*field.Solution
	Basin   *Basin
	Anodes  []job.Anode
	Density []float64 // into each patch of the basin's recovery, A/m²
	Closure float64   // recovered wall current over the field's, before scaling
	Even    *field.Uniformity
	Seconds float64
	never   *neverPaint // wall that no layout reaches, for the pictures; nil: not looked for
}

// Solve computes the field of the rods.
func (b *Basin) Solve(ctx context.Context, anodes []job.Anode) (*Solved, error) {
	return b.solve(ctx, anodes, field.Settings{})
}

func (b *Basin) solve(ctx context.Context, anodes []job.Anode, how field.Settings) (*Solved, error) {
	return b.solveAs(ctx, b.problem(anodes), anodes, how)
}

// solveAs is solve with the problem posed otherwise than the job has it.
func (b *Basin) solveAs(ctx context.Context, p *field.Problem, anodes []job.Anode, how field.Settings) (*Solved, error) {
	start := time.Now()
	solution, err := field.Solve(ctx, p, how)
	if err != nil {
		return nil, b.Job.Blame(job.Fault{Key: "anodes", Text: err.Error()})
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s := &Solved{Solution: solution, Basin: b, Anodes: anodes}
	s.Density, s.Closure = solution.WallCurrent(b.Recovery())
	s.Even = field.NewUniformity(b.Recovery().Patches.All, s.Density)
	s.Seconds = time.Since(start).Seconds()
	return s, nil
}

// problem poses the field of the rods.
func (b *Basin) problem(anodes []job.Anode) *field.Problem {
	j := b.Job
	p := &field.Problem{Liquid: b.Laid.Liquid, Level: b.Laid.Level, Conductivity: j.Bath.Conductivity, Wall: lawOf(j.Wall),
		Normal: b.Laid.Normal, Supply: supplyOf(j, anodes)}
	for i := range anodes {
		p.Anodes = append(p.Anodes, field.Anode{Rod: b.Laid.Turned(anodes[i].Rod), Law: anodeLaw(&anodes[i], j.Bath.Conductivity)})
	}
	return p
}

// mostOnAnode is the current density that a rod's metal is held against, A/m²: common
// practice, no source.
const mostOnAnode = 1000

// fill puts the field's figures into a result.
func (s *Solved) fill(r *report.Result) {
	cell := &report.Cell{CurrentA: s.Current, VoltageV: s.Terminal, ResistanceOhm: s.Resistance(), LimitedBy: "voltage"}
	if s.Limited {
		cell.LimitedBy = "current"
	}
	for i, a := range s.Anodes {
		cell.Anodes = append(cell.Anodes, report.Anode{Name: a.Name, CurrentA: s.Rods[i].Current, MostAM2: s.Rods[i].Most})
	}
	r.Cell, r.Wall = cell, s.wall()
	s.gas(r)
	r.Solver = s.solver()
	r.Warnings = append(r.Warnings, s.warnings()...)
}

// solver says how the field was computed.
func (s *Solved) solver() *report.Solver {
	return &report.Solver{SpacingMM: 1000 * s.Basin.Laid.Liquid.Lattice.H, Unknowns: s.Unknowns,
		Iterations: s.Outcome.Iterations, Residual: s.Outcome.Residual, Seconds: s.Seconds}
}

func (s *Solved) wall() *report.Wall {
	u := s.Even
	mean := u.Mean()
	return &report.Wall{
		MeanAM2: mean,
		PercentileAM2: report.Percentiles{P1: u.Percentile(0.01), P5: u.Percentile(0.05), P25: u.Percentile(0.25),
			P50: u.Percentile(0.50), P75: u.Percentile(0.75), P95: u.Percentile(0.95), P99: u.Percentile(0.99)},
		AreaFractionBelow: report.Below{Tenth: u.Below(0.1 * mean), Quarter: u.Below(0.25 * mean), Half: u.Below(0.5 * mean)},
		ReachFraction:     1 - u.Below(s.Basin.Job.Aim.Least),
		FluxClosure:       s.Closure,
		Rules:             s.rules(),
	}
}

// rules says what decides how the current spreads, by the Wagner number of the wall's law at
// the current density that half of the wall exceeds and at that which a twentieth stays
// under, over the length that liquid of the tank's volume would have as a cube.
func (s *Solved) rules() []report.Rule {
	j := s.Basin.Job
	law, length := lawOf(j.Wall), math.Cbrt(s.Basin.Filling.Volume)
	var out []report.Rule
	for _, q := range []float64{0.5, 0.05} {
		if density := s.Even.Percentile(q); density > 0 {
			wagner := electrode.Wagner(law, density, j.Bath.Conductivity, length)
			out = append(out, report.Rule{AtAM2: density, Wagner: wagner, Words: electrode.RuleOf(wagner).String()})
		}
	}
	return out
}

// patches returns the rows of wall.csv, in the tank's own frame.
func (s *Solved) patches() []report.Patch {
	back := s.Basin.Turn.Inverse()
	out := make([]report.Patch, len(s.Density))
	for i, p := range s.Basin.Recovery().Patches.All {
		out[i] = report.Patch{Centre: back.Apply(p.Centre), Normal: back.Apply(p.Normal), Area: p.Area, Density: s.Density[i]}
	}
	return out
}

// unsettled reports whether the solver stopped before its figures settled.
func (s *Solved) unsettled() bool { return s.Outcome.Status != multigrid.Converged }

func (s *Solved) strongest() (name string, density float64) {
	density = math.Inf(-1)
	for i := range s.Rods {
		if s.Rods[i].Most > density {
			name, density = s.Anodes[i].Name, s.Rods[i].Most
		}
	}
	return name, density
}
