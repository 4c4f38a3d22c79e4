package table

import (
	"context"
	"math"

	"evenwall/field"
	"evenwall/geometry"
)

// mended is how many nodes are solved on the finer lattice, too: three groups side by side.
const mended = 3 * field.SideBySide

// mend puts the rows of nodes and zones right by the finer lattice: at some nodes spread over
// the liquid it is known what the finer lattice gives each patch over what the coarse one
// does, and of the others a mean of these shares is taken, by how near they are. What zones
// do takes the mean of all.
func (t *Table) mend(ctx context.Context, rows, zones [][]float32) error {
	if t.settings.Fine == nil {
		return nil
	}
	at := t.scattered(mended)
	shares, err := t.shares(ctx, at, rows)
	if err != nil {
		return err
	}
	each(len(rows), func() func(int) {
		mean := make([]float32, len(t.patches))
		return func(n int) {
			t.mixed(mean, t.nearness(n, at), shares)
			t.multiply(rows[n], mean)
		}
	})
	mean := make([]float32, len(t.patches))
	alike := make([]float64, len(at))
	fill(alike, 1/float64(len(at)))
	t.mixed(mean, alike, shares)
	for _, row := range zones {
		for i, v := range mean {
			row[i] *= v
		}
	}
	return nil
}

// shares returns for some nodes what the finer lattice gives each patch over what their rows
// hold.
func (t *Table) shares(ctx context.Context, at []int, rows [][]float32) ([][]float32, error) {
	f := t.settings.Fine
	r := f.RecoveryOn(t.nearest)
	green, err := field.NewGreen(t.problem(f), r, t.slopes(f, r))
	if err != nil {
		return nil, err
	}
	out := make([][]float32, len(at))
	err = side(len(at), green, func(s *field.PointSolver, from, to int, answers []field.PointAnswer) error {
		var points []geometry.Vec
		for _, n := range at[from:to] {
			points = append(points, t.boxes.nodes[n].at)
		}
		if err := s.AnswerFrom(ctx, points, answers); err != nil {
			return err
		}
		for i, n := range at[from:to] {
			out[from+i] = over(answers[i].Wall, rows[n])
		}
		return nil
	})
	return out, err
}

// What a share may be, and the part of a row's mean from which on it is looked at: of wall that
// a node does not reach, behind a sheet or in a chamber of its own, both lattices hold next to
// nothing, and their ratio says nothing.
const (
	leastShare, mostShare = 0.5, 2
	reached               = 1e-5
)

// over returns one row over another, 1 where that holds next to nothing.
func over(fine, row []float32) []float32 {
	mean := float32(0)
	for _, v := range row {
		mean += v / float32(len(row))
	}
	out := make([]float32, len(row))
	for k, v := range row {
		out[k] = 1
		if v > reached*mean {
			out[k] = min(max(fine[k]/v, leastShare), mostShare)
		}
	}
	return out
}

// mixed sets the mean of shares by weights that add up to 1.
func (t *Table) mixed(mean []float32, weights []float64, shares [][]float32) {
	clear(mean)
	for i, w := range weights {
		if w > 0 {
			add(mean, float32(w), shares[i])
		}
	}
}

// multiply multiplies a row, which adds up to 1 again.
func (t *Table) multiply(row, by []float32) {
	sum := 0.0
	for i, v := range by {
		row[i] *= v
		sum += float64(row[i]) * t.patches[i].Area
	}
	for i := range row {
		row[i] = float32(float64(row[i]) / sum)
	}
}

// How nearness falls off: within about mendReach steps of nodes little, far off with the
// fourth power of the distance; what has less than leastPart of it all counts for nothing.
const (
	mendReach = 1.25
	leastPart = 1e-3
)

// nearness returns how near some nodes are to one; it adds up to 1.
func (t *Table) nearness(node int, to []int) []float64 {
	out, sum := make([]float64, len(to)), 0.0
	for i, n := range to {
		d := t.boxes.nodes[node].at.Dist(t.boxes.nodes[n].at) / t.boxes.step
		out[i] = math.Pow(d*d+mendReach*mendReach, -2)
		sum += out[i]
	}
	kept := 0.0
	for i, w := range out {
		if w < leastPart*sum {
			out[i] = 0
		}
		kept += out[i]
	}
	scale(out, 1/kept)
	return out
}

// scattered returns nodes far from each other: each the farthest from those before it.
func (t *Table) scattered(count int) []int {
	away := make([]float64, len(t.boxes.nodes))
	fill(away, math.Inf(1))
	chosen := []int{0}
	for len(chosen) < min(count, len(away)) {
		last, best := t.boxes.nodes[chosen[len(chosen)-1]].at, 0
		for i := range away {
			away[i] = math.Min(away[i], t.boxes.nodes[i].at.Dist(last))
			if away[i] > away[best] {
				best = i
			}
		}
		chosen = append(chosen, best)
	}
	return chosen
}
