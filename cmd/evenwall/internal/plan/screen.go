package plan

import (
	"context"
	"errors"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/search"
	"evenwall/field/table"
	"evenwall/geometry"
)

// screen is a search.Evaluator that looks layouts up in a table and solves those that the
// table does not hold.
type screen struct {
	table  *table.Table // nil before build, and where there is no room for one
	direct *direct
	fine   func() (*Basin, error) // the tank on the lattice that the best are solved on
}

// Evaluate implements search.Evaluator.
func (s *screen) Evaluate(ctx context.Context, rods []geometry.Rod) (search.Exposure, error) {
	if s.table == nil {
		return s.direct.Evaluate(ctx, rods)
	}
	e, err := s.table.Evaluate(ctx, rods)
	var outside *table.OutsideError
	if errors.As(err, &outside) {
		return s.direct.Evaluate(ctx, rods)
	}
	return e, err
}

// build makes the table for rods of the law that the screen solves with.
func (s *screen) build(ctx context.Context) error {
	b := s.direct.basin
	p := b.problem([]job.Anode{{Law: s.direct.law}})
	fine, err := s.fine()
	if err != nil {
		return err
	}
	t, err := table.Build(ctx, b.Laid, b.Recovery(), table.Settings{Conductivity: p.Conductivity, Wall: p.Wall,
		Anode: p.Anodes[0].Law, Supply: p.Supply, Clearance: b.Job.Search.Clearance, Fine: fine.Laid})
	if errors.Is(err, table.ErrNoRoom) {
		return nil
	}
	s.table = t
	return err
}

// effort returns how far a search by the screen goes: where every layout is solved, as far
// as the search does of itself.
func (s *screen) effort() search.Settings {
	out := search.Settings{Keep: looked[0] - 1}
	if s.table != nil {
		out.Reach, out.Scatter, out.Refine, out.Climbers = 800, 400, 1600, 8
	}
	return out
}
