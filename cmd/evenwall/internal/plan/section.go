package plan

import (
	"context"
	"fmt"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
	"evenwall/geometry"
	"evenwall/render"
)

// sectionSpacing is the spacing, m, of a section's lattice: one layer of cells costs little.
const sectionSpacing = 1.5e-3

// Section solves the level section at a height above the tank's lowest inside point, m, in
// two dimensions: each rod that is bare there as an endless cylinder, currents per metre of
// its length. The supply drives the liquid and the laws at its open voltage less the dead
// voltage: what its own resistance takes depends on the length that two dimensions lack.
func Section(ctx context.Context, j *job.Job, height float64, show Progress) (*report.Answer, error) {
	show("reading the tank", 0, 3)
	s := j.First()
	t, err := NewTank(ctx, j, s.Attitude)
	if err != nil {
		return nil, err
	}
	if height <= 0 || height >= t.Filling.Height {
		return nil, j.Blame(job.Fault{Key: "bath.level", Text: fmt.Sprintf(
			"a section %.0f mm above the lowest inside point is not in the liquid: give a height between 0 and %.0f mm", 1000*height, 1000*t.Filling.Height)})
	}
	b, err := t.NewBasin(0)
	if err != nil {
		return nil, err
	}
	slice, err := b.Laid.Cut(t.Up.Dot(t.Lowest)+height, sectionSpacing)
	if err != nil {
		return nil, err
	}
	show("solving the section", 1, 3)
	solved, err := b.solveSlice(ctx, slice, s.Anodes)
	if err != nil {
		return nil, err
	}
	show("drawing", 2, 3)
	return solved.answer(height)
}

// slicedField is a solved section.
type slicedField struct {
	*Solved
	slice *field.Slice
	rec   *field.Recovery
}

func (b *Basin) solveSlice(ctx context.Context, slice *field.Slice, anodes []job.Anode) (*slicedField, error) {
	j := b.Job
	p := &field.Problem{Liquid: slice.Liquid, Level: slice.Level, Flat: sectionSpacing, Conductivity: j.Bath.Conductivity,
		Wall: lawOf(j.Wall), Normal: slice.Normal, Supply: supplyOf(j, anodes)}
	p.Supply.Resistance, p.Supply.Limit = 0, 0
	for i := range anodes {
		p.Anodes = append(p.Anodes, field.Anode{Rod: b.Laid.Turned(anodes[i].Rod), Law: anodeLaw(&anodes[i], j.Bath.Conductivity)})
	}
	solution, err := field.Solve(ctx, p, field.Settings{})
	if err != nil {
		return nil, j.Blame(job.Fault{Key: "anodes", Text: fmt.Sprintf("at this height: %v", err)})
	}
	s := &slicedField{Solved: &Solved{Solution: solution, Basin: b, Anodes: anodes}, slice: slice, rec: slice.Recovery()}
	s.Density, s.Closure = solution.WallCurrent(s.rec)
	s.Even = field.NewUniformity(s.rec.Patches.All, s.Density)
	return s, ctx.Err()
}

// answer gathers the figures and the picture.
func (s *slicedField) answer(height float64) (*report.Answer, error) {
	t := s.Basin.Tank
	r := t.result("current", s.Anodes)
	r.Section = &report.Section{HeightMM: 1000 * height, CurrentAM: s.Current / sectionSpacing,
		ResistanceOhmM: s.Resistance() * sectionSpacing, OutlineMM: 1000 * s.rec.Patches.Area() / sectionSpacing}
	r.Wall = s.wall()
	r.Solver = &report.Solver{SpacingMM: 1000 * sectionSpacing, Unknowns: s.Unknowns,
		Iterations: s.Outcome.Iterations, Residual: s.Outcome.Residual}
	r.Warnings = append(r.Warnings, s.warnings()...)
	picture, err := s.picture(height, r.Warnings)
	return &report.Answer{Result: r, Pictures: []report.Picture{picture}}, err
}

// picture draws the section from above, the front to the right.
func (s *slicedField) picture(height float64, warnings []string) (report.Picture, error) {
	t, turn, back := s.Basin.Tank, s.Basin.Turn, s.Basin.Turn.Inverse()
	scene := t.Scene(s.Anodes)
	scene.Title = fmt.Sprintf("%s: level section, %.0f mm up", scene.Title, 1000*height)
	scene.Surface = paintedBy(scene.Surface, s.rec.Patches.Finder, s.Density, turn, sectionSpacing)
	scene.Least = t.Job.Aim.Least
	scene.Scale = render.ScaleFor(scene.Surface)
	scene.Notes = render.Notes{Field: fieldNote, Warnings: warnings}
	scene.Liquid = render.Plane{}
	probe := s.Probe()
	image, err := render.Section(render.SectionScene{
		Scene:     scene,
		Cut:       render.Cut{Origin: t.Lowest.AddScaled(t.Up, height), U: back.Apply(t.sides().Front()), V: back.Apply(t.sides().Left())},
		Potential: func(p geometry.Vec) (float64, bool) { return probe.At(turn.Apply(p)) },
	}, render.Settings{})
	if err != nil {
		return report.Picture{}, fmt.Errorf("the picture of the section: %w", err)
	}
	return report.Picture{Name: "section.png", Image: image}, nil
}
