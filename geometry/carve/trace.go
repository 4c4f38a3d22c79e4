package carve

import "slices"

// trace strings lines together: chains run from a point of the ring to another, loops
// are closed and end where they began (the first point is not repeated). ok is false
// when lines fork or end in the open.
func trace(lines [][2]int32, ring []int32) (chains, loops [][]int32, ok bool) {
	next := map[int32][]int32{}
	for _, l := range lines {
		next[l[0]] = append(next[l[0]], l[1])
		next[l[1]] = append(next[l[1]], l[0])
	}
	used := map[int32]bool{}
	var ends, inner []int32
	for _, l := range lines {
		for _, p := range l {
			if used[p] {
				continue
			}
			used[p] = true
			switch onRing := slices.Contains(ring, p); {
			case onRing && len(next[p]) == 1:
				ends = append(ends, p)
			case !onRing && len(next[p]) == 2:
				inner = append(inner, p)
			default:
				return nil, nil, false
			}
		}
	}
	clear(used)
	for _, p := range ends {
		if !used[p] {
			chains = append(chains, follow(p, next, used))
		}
	}
	for _, p := range inner {
		if !used[p] {
			loops = append(loops, follow(p, next, used))
		}
	}
	return chains, loops, true
}

// follow walks from p along unused points until there are none.
func follow(p int32, next map[int32][]int32, used map[int32]bool) []int32 {
	chain := []int32{p}
	used[p] = true
	for {
		on := int32(-1)
		for _, q := range next[p] {
			if !used[q] {
				on = q
				break
			}
		}
		if on < 0 {
			return chain
		}
		used[on] = true
		chain = append(chain, on)
		p = on
	}
}
