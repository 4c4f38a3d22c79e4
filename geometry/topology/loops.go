package topology

import "slices"

// Loop is a closed walk along open edges, as vertex numbers without a repeat of the
// first. Along is the number of its sides on which the facet beside it runs the same
// way as the walk: len(Vertices) where the surface is evenly turned.
type Loop struct {
	Vertices []int32
	Along    int
}

// Loops returns the boundary of the surface as closed walks over its open edges. Where
// two holes touch in a vertex the walk is split there. Walks that cannot be closed (a
// boundary broken by a crowded edge) are left out. Each loop runs the way of most of
// its facets: seen from outside, clockwise round a hole.
func Loops(edges []Edge) []Loop {
	open := openSides(edges)
	var loops []Loop
	for start := range open.sides {
		if !open.used[start] {
			loops = append(loops, open.walk(start)...)
		}
	}
	for i := range loops {
		if n := len(loops[i].Vertices); loops[i].Along*2 < n {
			slices.Reverse(loops[i].Vertices)
			loops[i].Along = n - loops[i].Along
		}
	}
	return loops
}

// side is an open edge in the sense its facet runs along it.
type side struct{ from, to int32 }

type boundary struct {
	sides []side
	at    map[int32][]int // sides at each vertex
	used  []bool
}

func openSides(edges []Edge) boundary {
	b := boundary{at: map[int32][]int{}}
	for _, e := range edges {
		if !e.IsOpen() {
			continue
		}
		s := side{e.A, e.B}
		if !e.Uses[0].Forward {
			s = side{e.B, e.A}
		}
		b.at[s.from] = append(b.at[s.from], len(b.sides))
		b.at[s.to] = append(b.at[s.to], len(b.sides))
		b.sides = append(b.sides, s)
	}
	b.used = make([]bool, len(b.sides))
	return b
}

// walk follows open sides from start until it is stuck, cutting a loop off each time it
// comes back to a vertex on its own path.
func (b *boundary) walk(start int) []Loop {
	var loops []Loop
	path := []int32{b.sides[start].from}
	var along []bool // whether side i of the path is walked the facet's way
	place := map[int32]int{path[0]: 0}
	for next := start; next >= 0; next = b.choose(path[len(path)-1]) {
		s, here := b.sides[next], path[len(path)-1]
		b.used[next] = true
		to := s.to
		if s.from != here {
			to = s.from
		}
		along = append(along, s.from == here)
		if k, seen := place[to]; seen {
			loops = append(loops, closeLoop(path[k:], along[k:]))
			for _, v := range path[k+1:] {
				delete(place, v)
			}
			path, along = path[:k+1], along[:k]
			continue
		}
		place[to] = len(path)
		path = append(path, to)
	}
	return loops
}

// choose returns an unused side at vertex v, one that starts there if there is one, or
// -1 when all are used.
func (b *boundary) choose(v int32) int {
	best := -1
	for _, i := range b.at[v] {
		if b.used[i] {
			continue
		}
		if b.sides[i].from == v {
			return i
		}
		best = i
	}
	return best
}

func closeLoop(path []int32, along []bool) Loop {
	l := Loop{Vertices: slices.Clone(path)}
	for _, a := range along {
		if a {
			l.Along++
		}
	}
	return l
}
