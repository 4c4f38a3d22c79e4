package table

import (
	"context"
	"errors"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"evenwall/field"
	"evenwall/field/electrode"
	"evenwall/geometry"
)

// Settings is the cell that layouts hang in, and how close the table is.
type Settings struct {
	Conductivity float64       // of the liquid, S/m
	Wall         electrode.Law // nil: primary
	Anode        electrode.Law // of the rods' metal; nil: primary
	Supply       field.Supply
	Clearance    float64 // least bare metal to steel, m: nearer to it no rod is asked about

	// Fine is the tank on a finer lattice, by which wall current is put right; nil: none.
	Fine *field.Filled
}

// Table answers for one tank, level and wall law. It is fit for use by several goroutines.
type Table struct {
	settings Settings
	filled   *field.Filled
	patches  []field.Patch
	nearest  *field.Patches
	boxes    *boxes
	regular  []float32 // by node and node: kappa times the potential, 1/m; symmetric
	wall     *wall
	zones    *zones // nil: the wall's law is a plain resistance
	rods     *rods
	pool     sync.Pool
}

// ErrNoRoom says that no node is far enough from steel: bare metal could hang nowhere, or
// only between nodes.
var ErrNoRoom = errors.New("no node of a table keeps the clearance to steel: lower the clearance or the spacing")

// nodeShare is how much nearer to steel than bare metal may be nodes stand, as a share of
// the clearance.
const nodeShare = 0.8

// Build solves for the nodes of a filled tank, on whose recovery's patches layouts are
// answered.
func Build(ctx context.Context, f *field.Filled, r *field.Recovery, s Settings) (*Table, error) {
	t := &Table{settings: s, filled: f, patches: r.Patches.All, nearest: r.Patches}
	g := newGrid(f, nodeShare*s.Clearance)
	if len(g.nodes) == 0 {
		return nil, ErrNoRoom
	}
	t.boxes = newBoxes(g, func(a, b geometry.Vec) bool { return sees(f, a, b) })
	if _, linear := field.IsLinear(s.Wall); !linear {
		t.zones = newZones(s.Wall, t.patches, g.step)
		if err := t.zones.linearise(ctx, t, r); err != nil {
			return nil, err
		}
	}
	green, err := field.NewGreen(t.problem(f), r, t.slopes(f, r))
	if err != nil {
		return nil, err
	}
	rows, err := t.solve(ctx, green)
	if err != nil {
		return nil, err
	}
	var biased [][]float32
	if t.zones != nil {
		if biased, err = t.zones.solve(ctx, t, green, rows); err != nil {
			return nil, err
		}
	}
	if err := t.mend(ctx, rows, biased); err != nil {
		return nil, err
	}
	t.wall = newWall(t.patches, rows, biased)
	t.start()
	return t, nil
}

// slopes returns the resistance that the wall's law is taken for, ohm m², on a lattice of the
// tank.
func (t *Table) slopes(f *field.Filled, r *field.Recovery) field.ByWall {
	if t.zones != nil {
		return t.zones.spread(t.zones.slope, f)
	}
	slope, _ := field.IsLinear(t.settings.Wall)
	out := field.NewByWall(f, r)
	fill(out.Links, slope)
	fill(out.Patches, slope)
	return out
}

// sees reports whether no steel stands between two points.
func sees(f *field.Filled, a, b geometry.Vec) bool {
	_, _, face, d := f.Tree.SegmentWithin(a, b, 1e-6)
	return face < 0 || d > 1e-7
}

// start makes what is not kept in a file.
func (t *Table) start() {
	t.rods = newRods(t.film())
	t.pool.New = func() any { return newWork(len(t.boxes.nodes)) }
}

// solve fills the regular part and returns by node and patch the current density of unit
// current, 1/m².
func (t *Table) solve(ctx context.Context, green *field.Green) ([][]float32, error) {
	cells := t.cells()
	n := len(cells)
	t.regular = make([]float32, n*n)
	rows := make([][]float32, n)
	err := side(n, green, func(s *field.PointSolver, from, to int, out []field.PointAnswer) error {
		if err := s.Answer(ctx, cells[from:to], cells[:to], out); err != nil {
			return err
		}
		for i := from; i < to; i++ {
			copy(t.regular[i*n:], out[i-from].Regular)
			rows[i] = append([]float32(nil), out[i-from].Wall...)
		}
		return nil
	})
	t.symmetrise(n)
	return rows, err
}

// cells returns the nodes' cells.
func (t *Table) cells() []int32 {
	cells := make([]int32, len(t.boxes.nodes))
	for i, n := range t.boxes.nodes {
		cells[i] = n.cell
	}
	return cells
}

func fill(v []float64, x float64) {
	for i := range v {
		v[i] = x
	}
}

// side solves for n right-hand sides, groups of them side by side, each the same whichever
// core takes it.
func side(n int, green *field.Green, group func(s *field.PointSolver, from, to int, out []field.PointAnswer) error) error {
	errs := make([]error, (n+field.SideBySide-1)/field.SideBySide)
	each(len(errs), func() func(int) {
		s, out := green.NewSolver(), make([]field.PointAnswer, field.SideBySide)
		return func(k int) {
			from := k * field.SideBySide
			to := min(n, from+field.SideBySide)
			errs[k] = group(s, from, to, out[:to-from])
		}
	})
	return errors.Join(errs...)
}

// symmetrise sets the regular part above the diagonal to what is below it: both differ but by how
// closely each was solved.
func (t *Table) symmetrise(n int) {
	for i := range n {
		for k := range i {
			t.regular[k*n+i] = t.regular[i*n+k]
		}
	}
}

// each calls work(0) … work(n-1) over the cores; every core's calls go through a function
// of its own.
func each(n int, worker func() func(int)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		group.Go(func() {
			work := worker()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	group.Wait()
}

// film returns kappa times the resistance of the rods' metal, m, at a usual current
// density.
func (t *Table) film() float64 {
	if t.settings.Anode == nil {
		return 0
	}
	_, slope := t.settings.Anode.Drop(usualDensity)
	return t.settings.Conductivity * math.Max(0, slope)
}

// usualDensity is the current density of a rod's metal, A/m², at which its law's slope is
// taken: what is left of the law is put right layout by layout.
const usualDensity = 200
