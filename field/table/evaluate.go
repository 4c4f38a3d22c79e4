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

// rateBlock is how many patches are summed at once: they stay in the nearest cache.
const rateBlock = 2048

// rates adds up the nodes' wall currents and scales them to the layout's current.
func (t *Table) rates(c *cell) []float64 {
	w := c.work
	out := make([]float64, len(t.patches))
	w.block = resize(w.block, rateBlock)
	sum := 0.0
	for from := 0; from < len(out); from += rateBlock {
		n := min(rateBlock, len(out)-from)
		y := blas32.Vector{N: n, Data: w.block[:n], Inc: 1}
		clear(y.Data)
		for k, node := range w.nodes {
			blas32.Axpy(w.charge[k], blas32.Vector{N: n, Data: t.wall[node][from : from+n], Inc: 1}, y)
		}
		if c.bias != nil {
			for z, v := range c.bias.volts {
				blas32.Axpy(float32(v), blas32.Vector{N: n, Data: t.zones.wall[z][from : from+n], Inc: 1}, y)
			}
		}
		for i, v := range y.Data {
			j := float64(v)
			if c.bias != nil {
				j = c.bias.local(from+i, j, c.table.settings.Conductivity)
			}
			out[from+i] = j
			sum += j * t.patches[from+i].Area
		}
	}
	if sum != 0 {
		for i := range out {
			out[i] *= c.current / sum
		}
	}
	return out
}
