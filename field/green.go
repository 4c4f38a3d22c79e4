package field

import (
	"context"
	"errors"

	"evenwall/field/multigrid"
	"evenwall/geometry"
)

// Green is a tank whose wall law has been made linear: its answers to point sources in the
// liquid add up to its answer to any rods. It is fit for use by several goroutines.
type Green struct {
	problem  *Problem
	recovery *Recovery
	contacts []contact
	operator *multigrid.Operator
	link     float64 // conductance of an open link, S
	walled   []bool  // by cell: a wall link starts there
	levels   *multigrid.Many
	endless  *endless
	cells    [][]int32   // by patch, of the recovery's samples: guarded numbers
	weights  [][]float32 // and their weights, the wall's slope worked in
}

// NewGreen prepares the tank of a problem, whose rods and supply do not count.
func NewGreen(p *Problem, r *Recovery, slopes ByWall) (*Green, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	n := p.Liquid.Len()
	g := &Green{problem: p, recovery: r, contacts: newContacts(p, &region{}), link: p.Conductivity * p.Liquid.Lattice.H,
		operator: multigrid.NewOperator(p.Liquid.Numbering), walled: make([]bool, n), endless: newEndless()}
	walls := make([]multigrid.Wall, len(g.contacts))
	for axis := range g.operator.Ahead {
		for i, open := range p.Liquid.Open[axis] {
			g.operator.Ahead[axis][i+1] = open * float32(g.link)
		}
	}
	for i := range g.contacts {
		k := &g.contacts[i]
		k.slope = slopes.Links[i]
		walls[i] = multigrid.Wall{Cell: k.link.Cell + 1, Side: sideOf(k.link), Area: float32(k.link.Cover), Conductance: float32(k.conductance(p.Conductivity))}
		g.walled[k.link.Cell] = true
	}
	g.levels = multigrid.NewMany(multigrid.NewHierarchy(g.operator, walls, g.link))
	g.cells, g.weights = make([][]int32, len(r.Patches.All)), make([][]float32, len(r.Patches.All))
	for i := range g.weights {
		for _, k := range r.of(i) {
			g.cells[i] = append(g.cells[i], k.cell+1)
			g.weights[i] = append(g.weights[i], float32(float64(k.weight)*p.Conductivity/(p.Conductivity*slopes.Patches[i]+float64(k.s))))
		}
	}
	return g, nil
}

// SideBySide is how many sources a solver takes at once.
const SideBySide = multigrid.Lanes

// PointSolver solves for several sources side by side; one goroutine uses it at a time.
type PointSolver struct {
	*Green
	many *multigrid.Many
	x, b multigrid.Vectors
	halo [multigrid.Lanes]*halo
}

// NewSolver returns a solver of its own memory.
func (g *Green) NewSolver() *PointSolver {
	n := g.operator.Len()
	return &PointSolver{Green: g, many: g.levels.Copy(), x: make(multigrid.Vectors, n+2), b: make(multigrid.Vectors, n+2)}
}

// PointAnswer is what unit current from a point makes.
type PointAnswer struct {
	// Regular is kappa times the potential, 1/m, at the places asked for, less what the
	// source and its mirror image in the liquid's surface make in liquid without end.
	Regular []float32
	Wall    []float32 // current density into each patch, 1/m², scaled so that it adds up to 1
	Closure float64   // the sum before scaling
}

// pointTolerance is how closely a point's field is solved.
const pointTolerance = 1e-5

// errUnsolved says that the wall operator's equations would not be solved.
var errUnsolved = errors.New("the field of a point source did not settle: raise the spacing or mend the surface")

// Answer finds what unit current from the centre of each source cell makes, at most
// SideBySide of them. The cells must have no wall link. at lists the cells where the
// regular part is wanted.
func (s *PointSolver) Answer(ctx context.Context, sources, at []int32, out []PointAnswer) error {
	clear(s.b)
	for l, source := range sources {
		s.halo[l] = s.around(source, s.problem.Liquid.Point(source), narrowHalo)
		s.halo[l].push(s, l)
	}
	if err := s.settle(ctx); err != nil {
		return err
	}
	for l := range sources {
		s.regular(l, at, &out[l])
	}
	s.wall(out[:len(sources)])
	return nil
}

// AnswerFrom finds what unit current from each of some points makes of the wall, at most
// SideBySide of them; the points are several spacings from it. There are no regular parts.
func (s *PointSolver) AnswerFrom(ctx context.Context, points []geometry.Vec, out []PointAnswer) error {
	clear(s.b)
	for l, p := range points {
		cell := int32(-1)
		if index, ok := s.problem.Liquid.Lattice.Nearest(p); ok {
			cell = s.problem.Liquid.Find(index)
		}
		if cell < 0 {
			return errNotInLiquid
		}
		s.halo[l] = s.around(cell, p, wideHalo)
		s.halo[l].push(s, l)
	}
	if err := s.settle(ctx); err != nil {
		return err
	}
	s.wall(out[:len(points)])
	return nil
}

var errNotInLiquid = errors.New("a point source is not in the liquid of a finer lattice of the same tank")

// settle solves for the lanes' right-hand sides.
func (s *PointSolver) settle(ctx context.Context) error {
	o := s.many.Solve(ctx, s.x, s.b, multigrid.Settings{Tolerance: pointTolerance})
	if err := ctx.Err(); err != nil {
		return err
	}
	if o.Status != multigrid.Converged {
		return errUnsolved
	}
	return nil
}

// regular sets a lane's regular part.
func (s *PointSolver) regular(l int, at []int32, out *PointAnswer) {
	h := s.halo[l]
	out.Regular = out.Regular[:0]
	for _, cell := range at {
		v := s.problem.Conductivity*float64(s.x[cell+1][l]) - h.without(s.Green, cell)
		out.Regular = append(out.Regular, float32(v))
	}
}

// wall recovers the current densities from the whole potential and scales them.
func (s *PointSolver) wall(out []PointAnswer) {
	for l := range out {
		for i, cell := range s.halo[l].cells {
			s.x[cell+1][l] += float32(s.halo[l].g[i])
		}
	}
	patches := s.recovery.Patches.All
	for l := range out {
		out[l].Wall, out[l].Closure = out[l].Wall[:0], 0
	}
	for i := range patches {
		v := s.x.Mix(s.cells[i], s.weights[i])
		for l := range out {
			out[l].Wall = append(out[l].Wall, v[l])
			out[l].Closure += float64(v[l]) * patches[i].Area
		}
	}
	for l := range out {
		for i := range out[l].Wall {
			out[l].Wall[i] = float32(float64(out[l].Wall[i]) / out[l].Closure)
		}
	}
}

// RecoveryOn returns the weights on the patches of another lattice of the same tank, such
// as a coarser one: the same patches then have figures of both.
func (f *Filled) RecoveryOn(p *Patches) *Recovery {
	return newRecoveryOn(f.Liquid, f.Steel, f.Tree, func() *Patches { return p })
}
