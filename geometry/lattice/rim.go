package lattice

import (
	"cmp"
	"math"
	"slices"

	"evenwall/geometry"
)

// rimLines is the number of sub lines a side that measure how much of a link's face ends at
// steel where the wall ends at an opening's rim.
const rimLines = 8

// meetRim sets how much of the link's face ends at steel, the rest at an opening, and near a
// rim how far that is. at is where the link itself ends; the wall is taken as flat about it
// and the rim as straight.
func (b *builder) meetRim(at geometry.Vec, k *Link) {
	if b.Opening == nil {
		return
	}
	open := b.openings(at, k)
	away, mixed := rimward(open)
	if !mixed || !b.flush(k, away) {
		if open(0, 0) {
			k.Cover = 0
		}
		return
	}
	edge := toEdge(open, away)
	steel, flux := 0, 0.0
	eachSubLine(0.5, func(u, v float64) {
		if open(u, v) {
			return
		}
		steel++
		const half = 0.5 / rimLines
		s := edge - u*away[0] - v*away[1] // from the rim, on steel
		flux += (math.Sqrt(math.Max(0, s+half)) - math.Sqrt(math.Max(0, s-half))) / (2 * half)
	})
	k.Cover = float64(steel) / (rimLines * rimLines)
	flux /= rimLines * rimLines
	// the potential at the centre, above the wall and edge before the rim
	potential := math.Sqrt((math.Hypot(edge, k.Theta) - edge) / 2)
	if steel > 0 && flux > 0 {
		k.Theta = k.Cover * potential / flux
	}
}

// openings returns the test for openings about a link's end on the wall, by steps across the
// link in spacings.
func (b *builder) openings(at geometry.Vec, k *Link) func(u, v float64) bool {
	h, axis := b.q.Lattice.H, int(k.Axis)
	slope := geometry.Vec{} // of the wall along the axis, for a step across
	if k.Face >= 0 {
		if n := b.Shell.Triangle(int(k.Face)).Normal(); math.Abs(n.Axis(axis)) > leastFacing {
			slope = n.Scale(-1 / n.Axis(axis))
		}
	}
	return func(u, v float64) bool {
		step := geometry.Vec{}.WithAxis((axis+1)%3, u*h).WithAxis((axis+2)%3, v*h)
		return b.Opening(at.Add(step.WithAxis(axis, step.Dot(slope))))
	}
}

// flush reports whether there is liquid beside the link's cell, or beside the cell farther
// from the wall, on both sides of the rim: where there is not, the wall does not go on as the
// opening but meets it in a corner, and no current crowds.
func (b *builder) flush(k *Link, away [2]float64) bool {
	across := (int(k.Axis) + 1) % 3
	if math.Abs(away[1]) > math.Abs(away[0]) {
		across = (across + 1) % 3
	}
	key, step, back := b.q.Keys[k.Cell], b.q.Lattice.Step(across), b.q.Lattice.Step(int(k.Axis))
	if k.Ahead {
		back = -back
	}
	wet := func(at int32) bool { return b.wet[at] > 0 || b.wet[at+back] > 0 }
	return wet(key+step) && wet(key-step)
}

// toEdge returns how far before the rim, in spacings, a link ends: below 0 where it ends at
// the opening.
func toEdge(open func(u, v float64) bool, away [2]float64) float64 {
	low, high := -nearRim, nearRim
	for range 12 {
		middle := (low + high) / 2
		if open(middle*away[0], middle*away[1]) {
			high = middle
		} else {
			low = middle
		}
	}
	return (low + high) / 2
}

// nearRim is how near to a rim, in spacings, the current's crowding towards it is reckoned
// with.
const nearRim = 1.5

// eachSubLine calls visit for an even spread of places in the square of the given half side.
func eachSubLine(half float64, visit func(u, v float64)) {
	for i := range rimLines {
		for j := range rimLines {
			visit(half*((2*float64(i)+1)/rimLines-1), half*((2*float64(j)+1)/rimLines-1))
		}
	}
}

// rimward returns the direction in which steel gives way to opening about a link's face, and
// whether it does.
func rimward(open func(u, v float64) bool) (away [2]float64, mixed bool) {
	const half = nearRim
	first := open(half, half)
	if open(-half, half) == first && open(half, -half) == first && open(-half, -half) == first && open(0, 0) == first {
		return away, false
	}
	eachSubLine(half, func(u, v float64) {
		if open(u, v) {
			away[0], away[1] = away[0]+u, away[1]+v
		} else {
			away[0], away[1] = away[0]-u, away[1]-v
		}
	})
	if size := math.Hypot(away[0], away[1]); size > 0 {
		away[0], away[1] = away[0]/size, away[1]/size
	}
	return away, true
}

// leastFacing is the least component of the wall's normal along a link for the wall to be
// followed across the link's face.
const leastFacing = 0.3

// plug is a link that ends, wholly or in part, at an opening or a plug, which insulate.
type plug struct {
	cell  int32
	side  int8    // twice the axis, and one more on the high side
	depth float32 // from the cell's centre along the link, in spacings
	share float32 // of the link's face
}

func sideOf(k *Link) int8 {
	if k.Ahead {
		return 2*k.Axis + 1
	}
	return 2 * k.Axis
}

// squeeze gives the links along an insulator the room that liquid has there: from the cells'
// centres to the insulator in place of half a spacing. Where it rises from one cell to the
// next, the link that it cuts off between the two above is made up for.
func (b *builder) squeeze() {
	slices.SortFunc(b.plugs, comparePlugs)
	for _, p := range b.plugs {
		for turn := int8(1); turn <= 2; turn++ {
			axis := (p.side/2 + turn) % 3
			step := b.q.Lattice.Step(int(axis))
			b.makeRoom(p, axis, b.wet[b.q.Keys[p.cell]+step]-1, p.cell)
			if before := b.wet[b.q.Keys[p.cell]-step] - 1; before >= 0 && b.plugged(before, p.side) == nil {
				b.makeRoom(p, axis, before, before) // else it is done from there
			}
		}
	}
}

// makeRoom changes the link between a plugged cell and another along axis; low is the lower
// of the two, whose link it is.
func (b *builder) makeRoom(p plug, axis int8, other, low int32) {
	if other < 0 || b.q.Open[axis][low] == 0 {
		return
	}
	room := p.share * (p.depth - 0.5)
	switch o := b.plugged(other, p.side); {
	case o != nil:
		room += o.share * (o.depth - 0.5)
	default:
		step := b.q.Lattice.Step(int(p.side / 2))
		if p.side&1 == 0 {
			step = -step
		}
		above := b.wet[b.q.Keys[other]+step] - 1
		if above < 0 {
			return
		}
		if o = b.plugged(above, p.side); o == nil {
			return
		}
		room += o.share * (o.depth + 0.5)
	}
	b.q.Open[axis][low] *= 1 + room/2
}

// plugged returns a cell's plug on a side, or nil.
func (b *builder) plugged(cell int32, side int8) *plug {
	if i, ok := slices.BinarySearchFunc(b.plugs, plug{cell: cell, side: side}, comparePlugs); ok {
		return &b.plugs[i]
	}
	return nil
}

func comparePlugs(p, q plug) int {
	return cmp.Or(cmp.Compare(p.cell, q.cell), cmp.Compare(p.side, q.side))
}
