package plan

import (
	"cmp"
	"math"
	"slices"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
	"evenwall/geometry"
	"evenwall/render"
)

// mostDiffering is how many pieces of wall are named where layouts differ; a piece with less than
// a crumb of the first one's weight is not.
const (
	mostDiffering = 4
	crumb         = 0.02
)

// differ finds the pieces of wall where contenders on one ground differ most, by area times the
// logarithm of the ratio: less than the aim's least and more than its ceiling count as these, as
// neither changes what the wall does.
func (m *match) differ() []report.Different {
	d := newDiffer(m.contenders)
	var found []different
	for pair := range d.pairs() {
		for _, p := range d.basin.pieces(d.wall, func(i int) bool { return d.by[i] >= d.bar && d.pair[i] == pair }) {
			found = append(found, d.sum(p, pair))
		}
	}
	slices.SortStableFunc(found, func(a, b different) int {
		return cmp.Or(cmp.Compare(b.weight, a.weight), cmp.Compare(a.patches[0], b.patches[0]))
	})
	var out []report.Different
	for _, p := range found[:min(mostDiffering, len(found))] {
		if p.weight >= crumb*found[0].weight {
			out = append(out, report.Different{Side: p.side, Place: render.Whereabout(d.basin.sides(), d.from, p.at), PointMM: point(p.at), AreaM2: p.area,
				Most: m.contenders[p.most].name, Less: m.contenders[p.less].name, MostAM2: p.each[p.most], LessAM2: p.each[p.less], AM2: p.each})
		}
	}
	return out
}

// pair is the contenders that give a patch the most and the least.
type pair struct{ most, less int }

// different is a piece of wall of which one contender gets much more than another.
type different struct {
	piece
	pair
	weight float64
	each   []float64 // mean by each contender, A/m²
}

// differ is a comparison, patch by patch of the fine basin.
type differ struct {
	basin *Basin
	wall  framed
	from  geometry.Vec // where places are measured from, m
	each  [][]float64  // of each contender, A/m²
	by    []float64    // logarithm of the most over the least; 0 where both change nothing
	pair  []pair
	bar   float64 // how much a patch must differ to belong to a piece
}

func newDiffer(of []*contender) *differ {
	first := of[0]
	d := &differ{basin: first.basin, wall: first.ground.figured(), from: first.basin.drawnOpenings(first.stations[0].Anodes)[0].Centre}
	for _, c := range of {
		d.each = append(d.each, c.mean)
	}
	aim := first.basin.Job.Aim
	counted := func(j float64) float64 { return max(min(j, aim.Most), aim.Least) }
	n := len(first.mean)
	d.by, d.pair = make([]float64, n), make([]pair, n)
	for i := range n {
		var p pair
		for k := range d.each {
			if d.each[k][i] > d.each[p.most][i] {
				p.most = k
			}
			if d.each[k][i] < d.each[p.less][i] {
				p.less = k
			}
		}
		d.by[i], d.pair[i] = math.Log(counted(d.each[p.most][i])/counted(d.each[p.less][i])), p
	}
	// half of what all but the last twentieth of the wall stays under
	d.bar = max(field.NewUniformity(first.ground.wetted(d.wall.All, d.by)).Percentile(0.95)/2, math.SmallestNonzeroFloat64)
	return d
}

// pairs are those that occur.
func (d *differ) pairs() map[pair]bool {
	out := map[pair]bool{}
	for i, p := range d.pair {
		if d.by[i] >= d.bar {
			out[p] = true
		}
	}
	return out
}

// sum adds to a piece what the contenders give it.
func (d *differ) sum(p piece, of pair) different {
	out := different{piece: p, pair: of, each: make([]float64, len(d.each))}
	for _, i := range p.patches {
		area := d.wall.All[i].Area
		out.weight += area * d.by[i]
		for k := range d.each {
			out.each[k] += area * d.each[k][i] / p.area
		}
	}
	return out
}
