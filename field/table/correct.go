package table

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"evenwall/field"
	"evenwall/geometry"
)

// correction puts the table right by what a finer lattice gives.
type correction struct {
	wall []float32 // by patch: by what its current is multiplied; nil: 1
}

// references is how many placements are solved on the finer lattice.
const references = 5

// referenceRadius is the radius of their rods, m.
const referenceRadius = 5e-3

// putRight solves the placements and finds by how much each patch gets more than the table
// says: the ratio of what all placements together bring it.
func (t *Table) putRight(ctx context.Context) error {
	fine := t.settings.Fine
	if fine == nil {
		return nil
	}
	recovery := fine.RecoveryOn(t.nearest)
	n := len(t.patches)
	logs := make([][]float64, n)
	for _, rod := range t.references() {
		e, err := t.evaluate([]geometry.Rod{rod}, correction{})
		if err != nil {
			return fmt.Errorf("a reference placement: %w", err)
		}
		j, err := t.exactly(ctx, fine, recovery, rod)
		if err != nil {
			return err
		}
		mean := e.Current / t.nearest.Area()
		for i := range j {
			if j[i] > faint*mean && e.Rate[i] > faint*mean {
				logs[i] = append(logs[i], math.Log(j[i]/e.Rate[i]))
			}
		}
	}
	t.right.wall = make([]float32, n)
	for i := range logs {
		t.right.wall[i] = float32(math.Exp(agreed(logs[i])))
	}
	return nil
}

// faint is the share of the mean current density below which a patch is not looked at.
const faint = 0.01

// agreed returns the mean of values, made the smaller the more they differ: what they do not
// agree on is not the patch's own.
func agreed(v []float64) float64 {
	if len(v) < 2 {
		return 0
	}
	mean, scatter := 0.0, 0.0
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		scatter += (x - mean) * (x - mean) / float64(len(v)-1)
	}
	own := math.Max(0, mean*mean-scatter/float64(len(v)))
	if own == 0 {
		return 0
	}
	return mean * own / (own + scatter/float64(len(v)))
}

// exactly returns what a placement brings each patch by the finer lattice, A/m².
func (t *Table) exactly(ctx context.Context, fine *field.Filled, r *field.Recovery, rod geometry.Rod) ([]float64, error) {
	p := &field.Problem{Liquid: fine.Liquid, Level: fine.Level, Conductivity: t.settings.Conductivity, Wall: t.settings.Wall,
		Normal: fine.Normal, Supply: t.settings.Supply, Anodes: []field.Anode{{Rod: rod, Law: t.settings.Anode}}}
	s, err := field.Solve(ctx, p, field.Settings{Tolerance: 1e-6})
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	j, _ := s.WallCurrent(r)
	return j, nil
}

// column is the nodes one over the other.
type column struct{ low, high geometry.Vec }

// references returns plumb rods in the lattice's frame, bare as far as nodes reach and far
// from each other.
func (t *Table) references() []geometry.Rod {
	columns := t.columns()
	var chosen []column
	for len(chosen) < references && len(chosen) < len(columns) {
		chosen = append(chosen, farthest(columns, chosen))
	}
	var rods []geometry.Rod
	for i, c := range chosen {
		top := c.high.WithAxis(2, t.boxes.level+0.05)
		rods = append(rods, geometry.Rod{Name: fmt.Sprintf("reference %d", i+1), Path: geometry.Straight(c.low, top), Radius: referenceRadius,
			Bare: []geometry.Span{{From: 0, To: c.high.Z - c.low.Z}}})
	}
	return rods
}

// columns lists the unbroken columns of nodes that keep the clearance, the longest first,
// those of half its length at least.
func (t *Table) columns() []column {
	free := map[[3]int]geometry.Vec{}
	need := t.settings.Clearance + referenceRadius
	for key, n := range t.boxes.index {
		at := t.boxes.nodes[n].at
		if _, face, d := t.filled.Tree.ClosestWithin(at, need); face < 0 || d >= need {
			free[key] = at
		}
	}
	var all []column
	for key, high := range free {
		if _, above := free[[3]int{key[0], key[1], key[2] - 1}]; above {
			continue
		}
		c := column{high: high}
		for k := key[2]; ; k++ {
			low, ok := free[[3]int{key[0], key[1], k}]
			if !ok {
				break
			}
			c.low = low
		}
		all = append(all, c)
	}
	slices.SortFunc(all, func(a, b column) int {
		return cmp.Or(cmp.Compare(b.high.Z-b.low.Z, a.high.Z-a.low.Z), cmp.Compare(a.low.X, b.low.X), cmp.Compare(a.low.Y, b.low.Y))
	})
	if len(all) == 0 {
		return nil
	}
	long := all[0].high.Z - all[0].low.Z
	return slices.DeleteFunc(all, func(c column) bool { return c.high.Z-c.low.Z < long/2 || c.high.Z-c.low.Z < 0.02 })
}

// farthest returns the column farthest from those chosen: of none, the first.
func farthest(all, chosen []column) column {
	best, most := all[0], -1.0
	for _, c := range all {
		least := math.Inf(1)
		for _, k := range chosen {
			least = math.Min(least, math.Hypot(c.low.X-k.low.X, c.low.Y-k.low.Y))
		}
		if len(chosen) > 0 && least > most {
			best, most = c, least
		}
	}
	return best
}
