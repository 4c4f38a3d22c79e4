package lattice

import (
	"evenwall/geometry"
)

// sameCrossing is how near along a line, in lattice units, two crossings count as one:
// a facet that the file holds twice.
const sameCrossing = 1e-5

// Surface is a tank's shell on a lattice: where the lattice lines cross it, and which
// cell centres it encloses.
type Surface struct {
	Lattice Lattice
	Lines   [3]Lines // along x, y, z
	Inside  []bool   // by linear index
	Doubt   int      // cells whose three axes did not agree
}

// Enclose finds the crossings of the shell and the cells inside it. The shell may have
// holes, doubled or flipped facets: each axis votes by the parity of its crossings, lines
// with an odd count abstain, and cells in doubt follow their neighbours across links that
// no facet cuts.
func Enclose(l Lattice, shell *geometry.Mesh) *Surface {
	s := &Surface{Lattice: l, Inside: make([]bool, l.Cells())}
	votes := make([]int8, l.Cells())
	for axis := range 3 {
		s.Lines[axis] = cross(&l, shell, axis, 1)
		s.vote(votes, axis)
	}
	s.settle(votes)
	return s
}

// vote adds +1 for inside and -1 for outside to every cell on a line with an even
// number of crossings.
func (s *Surface) vote(votes []int8, axis int) {
	l := &s.Lattice
	a, b := (axis+1)%3, (axis+2)%3
	for q := range l.N[b] {
		for p := range l.N[a] {
			line := distinct(s.Lines[axis].Line(p, q))
			if len(line)%2 == 1 {
				continue
			}
			var c [3]int
			c[a], c[b] = p, q
			index, step, next, state := l.Index(c[0], c[1], c[2]), l.Step(axis), 0, int8(-1)
			for u := range l.N[axis] {
				for next < len(line) && line[next].At < float64(u) {
					state, next = -state, next+1
				}
				votes[index] += state
				index += step
			}
		}
	}
}

// distinct merges crossings at the same place. It returns line itself when there is
// nothing to merge.
func distinct(line []Crossing) []Crossing {
	for i := 1; i < len(line); i++ {
		if line[i].At-line[i-1].At >= sameCrossing {
			continue
		}
		out := append([]Crossing(nil), line[:i]...)
		for _, c := range line[i:] {
			if c.At-out[len(out)-1].At >= sameCrossing {
				out = append(out, c)
			}
		}
		return out
	}
	return line
}

// settle turns votes into labels. Unanimous cells stand; the others are relaxed.
func (s *Surface) settle(votes []int8) {
	var doubtful []int32
	for i, v := range votes {
		s.Inside[i] = v > 0
		if v > -3 && v < 3 {
			doubtful = append(doubtful, int32(i))
		}
	}
	s.Doubt = len(doubtful)
	for range 12 {
		changed := 0
		for _, i := range doubtful {
			sum := 0
			s.eachUncut(i, func(n int32) {
				if s.Inside[n] {
					sum += 2
				} else {
					sum -= 2
				}
			})
			sum += int(votes[i])
			if now := sum > 0; now != s.Inside[i] {
				s.Inside[i] = now
				changed++
			}
		}
		if changed == 0 {
			return
		}
	}
}

// eachUncut calls visit for the neighbours of a cell across links that no facet cuts.
func (s *Surface) eachUncut(index int32, visit func(int32)) {
	l := &s.Lattice
	i, j, k := l.Coordinates(index)
	c := [3]int{i, j, k}
	for axis := range 3 {
		line := s.Lines[axis].Line(c[(axis+1)%3], c[(axis+2)%3])
		if c[axis]+1 < l.N[axis] && len(between(line, c[axis])) == 0 {
			visit(index + l.Step(axis))
		}
		if c[axis] > 0 && len(between(line, c[axis]-1)) == 0 {
			visit(index - l.Step(axis))
		}
	}
}

// Volume returns the enclosed volume by counting cells, m³.
func (s *Surface) Volume() float64 {
	count := 0
	for _, in := range s.Inside {
		if in {
			count++
		}
	}
	h := s.Lattice.H
	return float64(count) * h * h * h
}
