package table

import (
	"context"
	"math"

	"gonum.org/v1/gonum/blas/blas32"

	"evenwall/field/search"
	"evenwall/geometry"
)

// Evaluate implements search.Evaluator. Rods are in the tank's frame. An OutsideError says
// that the table does not reach as far as their bare metal.
func (t *Table) Evaluate(ctx context.Context, rods []geometry.Rod) (search.Exposure, error) {
	if err := ctx.Err(); err != nil {
		return search.Exposure{}, err
	}
	turned := make([]geometry.Rod, len(rods))
	for i := range rods {
		turned[i] = t.filled.Turned(rods[i])
	}
	return t.evaluate(turned)
}

// evaluate answers for rods in the lattice's frame.
func (t *Table) evaluate(rods []geometry.Rod) (search.Exposure, error) {
	h, err := t.hang(rods)
	if err != nil {
		return search.Exposure{}, err
	}
	w := t.pool.Get().(*work)
	defer t.pool.Put(w)
	if err := w.stand(t.boxes, h); err != nil {
		return search.Exposure{}, err
	}
	w.feel(t, len(h.points))
	c := &cell{hung: h, table: t, work: w}
	if !c.solve() {
		return search.Exposure{}, errStuck
	}
	e := search.Exposure{Current: c.current, AtLimit: 1, AnodeMost: c.most()}
	if limit := t.settings.Supply.Limit; limit > 0 && c.current > 0 {
		e.AtLimit = math.Max(1, limit/c.current)
	}
	e.Rate = t.rates(c)
	return e, nil
}

// rateBlock is how many kept patches are summed at once: they stay in the nearest cache.
const rateBlock = 2048

// rates adds up the wall currents of nodes and zones and scales them to the layout's
// current.
func (t *Table) rates(c *cell) []float64 {
	w := c.work
	w.kept = resize(w.kept, t.wall.kept)
	clear(w.kept)
	for from := 0; from < len(w.kept); from += rateBlock {
		to := min(len(w.kept), from+rateBlock)
		addRows(w.kept[from:to], w.charge, func(k int) []float32 { return t.wall.nodes[w.nodes[k]][from:to] })
		if c.bias != nil {
			addRows(w.kept[from:to], c.bias.volts, func(z int) []float32 { return t.wall.zones[z][from:to] })
		}
	}
	out := make([]float64, len(t.patches))
	if c.bias != nil {
		t.locally(c, out)
		return out
	}
	sum := 0.0
	for k, v := range w.kept {
		sum += float64(v) * t.wall.area[k]
	}
	blas32.Scal(float32(c.current/sum), blas32.Vector{N: len(w.kept), Data: w.kept, Inc: 1})
	t.wall.eachGroup(w.kept, func(patches []int32, densities []float32) {
		for i, p := range patches {
			out[p] = float64(densities[i])
		}
	})
	return out
}

// locally sets the patches' current densities with what the law takes of each, scaled to the
// layout's current.
func (t *Table) locally(c *cell, out []float64) {
	sum := 0.0
	t.wall.eachGroup(c.work.kept, func(patches []int32, densities []float32) {
		for i, p := range patches {
			out[p] = c.bias.local(int(p), float64(densities[i]), t.settings.Conductivity)
			sum += out[p] * t.patches[p].Area
		}
	})
	if sum != 0 {
		scale(out, c.current/sum)
	}
}
