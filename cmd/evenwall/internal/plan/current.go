package plan

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
)

// Current says what each patch of wall gets from the rods of the job's first station.
func Current(ctx context.Context, j *job.Job, show Progress) (*report.Answer, error) {
	show("reading the tank", 0, 4)
	s := j.First()
	t, err := filledTank(j, s.Attitude)
	if err != nil {
		return nil, err
	}
	show("laying the lattice", 1, 4)
	var b *Basin
	var hangs, laid error
	twoAtATime( // side by side: in a fine surface each takes as long as solving the field
		func() { hangs = t.Hangs(s) },
		func() { b, laid = t.breathing(ctx) },
	)
	if err := cmp.Or(hangs, laid); err != nil {
		return nil, err
	}
	show("solving the field", 2, 4)
	solved, err := b.Solve(ctx, s.Anodes)
	if err != nil {
		return nil, err
	}
	show("drawing", 3, 4)
	return t.currentAnswer("current", solved)
}

// breathing lays the tank on a lattice while the air in it is looked for: only air that the
// job keeps in must be known before.
func (t *Tank) breathing(ctx context.Context) (*Basin, error) {
	if t.Job.Bath.KeepsAir {
		if err := t.breathe(ctx); err != nil {
			return nil, err
		}
		return t.NewBasin(0)
	}
	found := make(chan error, 1)
	go func() { found <- t.breathe(ctx) }()
	b, err := t.NewBasin(0)
	return b, errors.Join(<-found, err)
}

// currentAnswer gathers the figures, the rows and the pictures of a solved station.
func (t *Tank) currentAnswer(command string, solved *Solved) (*report.Answer, error) {
	c := t.Gaps(solved.Anodes)
	r := t.result(command, solved.Anodes)
	r.Clearance = t.clearance(&c, solved.Anodes)
	if check := c.check(t.Job.Search.Clearance); !check.Met {
		r.Warnings = append(r.Warnings, fmt.Sprintf("rod %q comes within %.1f mm of steel%s, nearer than the %.1f mm of search.clearance: move it or sleeve it there", c.Off.Rod, check.Value, c.atWorst(), check.Limit))
	}
	solved.fill(&r)
	pictures, err := solved.pictures(&c, r.Warnings)
	if err != nil {
		return nil, err
	}
	return &report.Answer{Result: r, Wall: solved.patches(), Pictures: pictures}, nil
}
