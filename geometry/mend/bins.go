package mend

import (
	"math"

	"evenwall/geometry"
)

// bins files numbered points by the cube of space that they lie in.
type bins struct {
	side   float64 // m
	points []geometry.Vec
	next   []int32 // the point filed before in the same cube, or -1
	last   map[[3]int32]int32
}

func newBins(side float64) *bins { return &bins{side: side, last: map[[3]int32]int32{}} }

func (b *bins) cube(p geometry.Vec) [3]int32 {
	return [3]int32{int32(math.Floor(p.X / b.side)), int32(math.Floor(p.Y / b.side)), int32(math.Floor(p.Z / b.side))}
}

// add files the next point.
func (b *bins) add(p geometry.Vec) {
	c := b.cube(p)
	before, ok := b.last[c]
	if !ok {
		before = -1
	}
	b.last[c] = int32(len(b.points))
	b.next = append(b.next, before)
	b.points = append(b.points, p)
}

// within calls visit with the points nearer to p than reach, at most one side of a cube.
func (b *bins) within(p geometry.Vec, reach float64, visit func(int32)) {
	low, high := b.cube(p.Sub(geometry.V(reach, reach, reach))), b.cube(p.Add(geometry.V(reach, reach, reach)))
	for x := low[0]; x <= high[0]; x++ {
		for y := low[1]; y <= high[1]; y++ {
			for z := low[2]; z <= high[2]; z++ {
				i, ok := b.last[[3]int32{x, y, z}]
				for ; ok && i >= 0; i = b.next[i] {
					if b.points[i].Dist(p) <= reach {
						visit(i)
					}
				}
			}
		}
	}
}
