package mend

import (
	"math"

	"evenwall/geometry"
)

// longLoop is the number of corners beyond which a loop is halved before it is filled: the
// work grows with the cube of it.
const longLoop = 96

// patch returns triangles that fill a loop, by places in the loop, wound as the loop runs:
// those with the least area in all. taken says which pairs of places are joined by a side
// already, which a patch must not repeat.
// Barequet & Sharir (1995): every way to fill a loop by triangles is a tree of parts.
func patch(loop []geometry.Vec, taken func(i, k int) bool) [][3]int {
	places := make([]int, len(loop))
	for i := range places {
		places[i] = i
	}
	return patchPart(loop, places, taken)
}

func patchPart(loop []geometry.Vec, places []int, taken func(i, k int) bool) [][3]int {
	if len(places) > longLoop {
		i, k := waist(loop, places)
		first := append([]int(nil), places[i:k+1]...)
		second := append(append([]int(nil), places[k:]...), places[:i+1]...)
		return append(patchPart(loop, first, taken), patchPart(loop, second, taken)...)
	}
	return leastArea(loop, places, taken)
}

// waist returns the two places, at least a quarter of the loop apart along it, that are
// nearest to each other.
func waist(loop []geometry.Vec, places []int) (i, k int) {
	n, best := len(places), math.Inf(1)
	step := max(1, n/512)
	for a := 0; a < n; a += step {
		for b := a + n/4; b < n && n-(b-a) >= n/4; b += step {
			if d := loop[places[a]].Dist(loop[places[b]]); d < best {
				best, i, k = d, a, b
			}
		}
	}
	return i, k
}

// takenCost is what a side that is there already costs, in areas of the loop's own size.
const takenCost = 1e3

// leastArea fills a loop of at most longLoop corners.
func leastArea(loop []geometry.Vec, places []int, taken func(i, k int) bool) [][3]int {
	n := len(places)
	cost, split := make([]float64, n*n), make([]int, n*n)
	dear := takenCost * geometry.BoxOf(pick(loop, places)...).Size().Norm()
	dear *= dear
	for span := 2; span < n; span++ {
		for i := 0; i+span < n; i++ {
			k, best := i+span, math.Inf(1)
			for m := i + 1; m < k; m++ {
				area := geometry.Triangle{A: loop[places[i]], B: loop[places[m]], C: loop[places[k]]}.Area()
				if c := cost[i*n+m] + cost[m*n+k] + area; c < best {
					best, split[i*n+k] = c, m
				}
			}
			if span < n-1 && taken(places[i], places[k]) {
				best += dear
			}
			cost[i*n+k] = best
		}
	}
	var out [][3]int
	var collect func(i, k int)
	collect = func(i, k int) {
		if k-i < 2 {
			return
		}
		m := split[i*n+k]
		out = append(out, [3]int{places[i], places[m], places[k]})
		collect(i, m)
		collect(m, k)
	}
	collect(0, n-1)
	return out
}

func pick(points []geometry.Vec, places []int) []geometry.Vec {
	out := make([]geometry.Vec, len(places))
	for i, p := range places {
		out[i] = points[p]
	}
	return out
}
