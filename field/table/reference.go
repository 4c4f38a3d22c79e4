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

// references is how many placements a law that bends is made linear about.
const references = 5

// referenceRadius is the radius of their rods, m.
const referenceRadius = 5e-3

// reference returns what a placement brings each patch, A/m².
func (t *Table) reference(ctx context.Context, r *field.Recovery, rod geometry.Rod) ([]float64, error) {
	p := t.problem(t.filled)
	p.Anodes = []field.Anode{{Rod: rod, Law: t.settings.Anode}}
	s, err := field.Solve(ctx, p, field.Settings{Tolerance: 1e-5, Settled: 1e-3})
	if err != nil {
		return nil, fmt.Errorf("a reference placement: %w", err)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	j, _ := s.WallCurrent(r)
	return j, nil
}

// problem poses the field of the tank without rods on one of its lattices.
func (t *Table) problem(f *field.Filled) *field.Problem {
	s := &t.settings
	return &field.Problem{Liquid: f.Liquid, Level: f.Level, Conductivity: s.Conductivity, Wall: s.Wall, Normal: f.Normal, Supply: s.Supply}
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
		return cmp.Or(cmp.Compare(b.high.Z-b.low.Z, a.high.Z-a.low.Z), cmp.Compare(a.low.X, b.low.X), cmp.Compare(a.low.Y, b.low.Y), cmp.Compare(a.low.Z, b.low.Z))
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
