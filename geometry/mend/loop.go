package mend

import "evenwall/geometry/topology"

// loopsOf returns the surface's boundary as closed walks, each along the facets' sides as
// the facets run. A side counts as often as facets run along it one way more than the
// other, so that walks always close, also where more than two facets meet: patches on all
// of them make the surface one that volume and winding numbers have a meaning for.
func loopsOf(edges []topology.Edge) [][]int32 {
	b := newBoundary(edges)
	var loops [][]int32
	for start := range b.to {
		if !b.used[start] {
			loops = append(loops, b.walk(int32(start))...)
		}
	}
	return loops
}

// boundary holds directed sides, those from one corner in a list.
type boundary struct {
	from, to []int32
	next     []int32         // another side from the same corner, or -1
	first    map[int32]int32 // of each corner
	used     []bool
}

func newBoundary(edges []topology.Edge) *boundary {
	b := &boundary{first: map[int32]int32{}}
	for _, e := range edges {
		net := 0
		for _, u := range e.Uses {
			if u.Forward {
				net++
			} else {
				net--
			}
		}
		for ; net > 0; net-- {
			b.add(e.A, e.B)
		}
		for ; net < 0; net++ {
			b.add(e.B, e.A)
		}
	}
	b.used = make([]bool, len(b.to))
	return b
}

func (b *boundary) add(from, to int32) {
	before, ok := b.first[from]
	if !ok {
		before = -1
	}
	b.first[from] = int32(len(b.to))
	b.from, b.to, b.next = append(b.from, from), append(b.to, to), append(b.next, before)
}

// walk follows sides from start until none goes on, and cuts a loop off each time it comes
// back to a corner on its own path.
func (b *boundary) walk(start int32) (loops [][]int32) {
	path := []int32{b.from[start]}
	place := map[int32]int{path[0]: 0}
	for side := start; side >= 0; side = b.unused(path[len(path)-1]) {
		b.used[side] = true
		to := b.to[side]
		k, seen := place[to]
		if !seen {
			place[to] = len(path)
			path = append(path, to)
			continue
		}
		loops = append(loops, append([]int32(nil), path[k:]...))
		for _, v := range path[k+1:] {
			delete(place, v)
		}
		path = path[:k+1]
	}
	return loops
}

func (b *boundary) unused(corner int32) int32 {
	i, ok := b.first[corner]
	for ; ok && i >= 0; i = b.next[i] {
		if !b.used[i] {
			return i
		}
	}
	return -1
}
