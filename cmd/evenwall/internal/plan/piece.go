package plan

import (
	"math"

	"evenwall/geometry"
)

// piece is a connected piece of wall, in the tank's own frame.
type piece struct {
	patches   []int32 // by number
	area      float64 // m²
	side      string  // what wall it is: bottom, front left, baffle
	at        geometry.Vec
	low, high float64 // of its patches' middles above the lowest inside point, plumb, m
}

// pieces returns the connected pieces of the patches that are in, the largest first.
func (t *Tank) pieces(all framed, in func(i int) bool) []piece {
	var out []piece
	for _, patches := range all.Pieces(in) {
		out = append(out, t.pieceOf(all, patches))
	}
	return out
}

// pieceOf sums up some of the patches of the tank's wall.
func (t *Tank) pieceOf(all framed, patches []int32) piece {
	back := all.back
	p := piece{patches: patches, low: math.Inf(1), high: math.Inf(-1)}
	normals, areas := make([]geometry.Vec, len(patches)), make([]float64, len(patches))
	middle, toward, sheet := geometry.Vec{}, geometry.Vec{}, 0.0
	for k, i := range patches {
		q := &all.All[i]
		normals[k], areas[k] = back.Apply(q.Normal), q.Area
		p.area += q.Area
		middle = middle.AddScaled(back.Apply(q.Centre), q.Area)
		toward = toward.AddScaled(normals[k], q.Area)
		if all.OnSheet(i) {
			sheet += q.Area
		}
		h := t.Height(back.Apply(q.Centre))
		p.low, p.high = math.Min(p.low, h), math.Max(p.high, h)
	}
	middle = middle.Scale(1 / p.area)
	nearest := math.Inf(1)
	for _, i := range patches {
		if c := back.Apply(all.All[i].Centre); c.Dist(middle) < nearest {
			nearest, p.at = c.Dist(middle), c
		}
	}
	sides := t.sides()
	switch {
	case sheet > p.area/2:
		p.side = "baffle"
	case toward.Norm() > 0.5*p.area:
		p.side = sides.Name(toward)
	default:
		p.side = sides.Faced(normals, areas, func(k int) bool { return all.OnSheet(patches[k]) })
	}
	return p
}
