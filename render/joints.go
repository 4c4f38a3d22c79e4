package render

import "slices"

// joints holds which knots follow each other on lines.
type joints[K comparable] struct {
	next  map[K][]K
	order []K
}

func newJoints[K comparable]() *joints[K] { return &joints[K]{next: map[K][]K{}} }

// join makes a and b neighbours, if they are not yet.
func (j *joints[K]) join(a, b K) {
	if slices.Contains(j.next[a], b) {
		return
	}
	for _, pair := range [2][2]K{{a, b}, {b, a}} {
		if j.next[pair[0]] == nil {
			j.order = append(j.order, pair[0])
		}
		j.next[pair[0]] = append(j.next[pair[0]], pair[1])
	}
}

// ways returns lines that go along every joint once: from loose ends as far as they go,
// then the closed ones, back to their start, in the order they were found.
func (j *joints[K]) ways() [][]K {
	used := map[[2]K]bool{}
	var out [][]K
	for _, endsOnly := range []bool{true, false} {
		for _, start := range j.order {
			if endsOnly && len(j.next[start])%2 == 0 {
				continue
			}
			for way := j.walk(start, used); len(way) > 1; way = j.walk(start, used) {
				out = append(out, way)
			}
		}
	}
	return out
}

// walk goes on from start along joints not used yet, and uses them.
func (j *joints[K]) walk(start K, used map[[2]K]bool) []K {
	way := []K{start}
	for at := start; ; {
		k := slices.IndexFunc(j.next[at], func(n K) bool { return !used[[2]K{at, n}] })
		if k < 0 {
			return way
		}
		onward := j.next[at][k]
		used[[2]K{at, onward}], used[[2]K{onward, at}] = true, true
		way = append(way, onward)
		at = onward
	}
}
