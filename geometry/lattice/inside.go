package lattice

import (
	"math"
	"sync"

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
	Doubt   int      // cells on which the lines along the three axes did not agree
	Split   float64  // share of a sample of all other cells that winding numbers place otherwise; NaN: not asked
}

// Enclose finds the crossings of the shell and the cells inside it. The shell may have
// holes, doubled or flipped facets, and parts that overlap. Each lattice line votes for its
// cells by the parity of the crossings before them and, where the facets' facing adds up
// along the line, by that too; a line with an odd count abstains, and so does one of
// which the two disagree. Cells on which the three axes do not agree are decided by their
// neighbours where those are in no doubt, else by their winding numbers if those agree
// with the other cells, else by relaxation across links that no facet cuts.
func Enclose(l Lattice, shell *geometry.Mesh) *Surface {
	s := &Surface{Lattice: l, Inside: make([]bool, l.Cells()), Split: math.NaN()}
	votes := make([]int8, l.Cells())
	var crossed sync.WaitGroup
	for axis := range 3 {
		crossed.Go(func() { s.Lines[axis] = cross(&l, shell, axis, 1) })
	}
	crossed.Wait()
	for axis := range 3 {
		s.vote(votes, axis)
	}
	doubtful := s.count(votes)
	s.Doubt = len(doubtful)
	for before := len(doubtful) + 1; len(doubtful) < before; {
		before = len(doubtful)
		doubtful = s.settleByNeighbours(votes, doubtful)
	}
	if len(doubtful) > 0 && !s.settleByWinding(shell, votes, doubtful) {
		s.relax(votes, doubtful)
	}
	return s
}

// unanimous is the vote of a cell on which the three axes agree, or its neighbours do.
const unanimous = 3

// settleByNeighbours labels cells in doubt as their neighbours across links that no facet
// cuts, where those in no doubt agree and either none is in doubt or the cell's own vote
// agrees too, and returns the other cells.
func (s *Surface) settleByNeighbours(votes []int8, doubtful []int32) (left []int32) {
	var settled []int32
	for _, i := range doubtful {
		in, out, unsure := 0, 0, 0
		s.eachUncut(i, func(n int32) {
			switch votes[n] {
			case unanimous:
				in++
			case -unanimous:
				out++
			default:
				unsure++
			}
		})
		agrees := unsure == 0 || in > 0 && votes[i] > 0 || out > 0 && votes[i] < 0
		if !agrees || (in > 0) == (out > 0) {
			left = append(left, i)
			continue
		}
		s.Inside[i] = in > 0
		settled = append(settled, i)
	}
	for _, i := range settled { // at the end, so that the order of cells does not matter
		votes[i] = -unanimous
		if s.Inside[i] {
			votes[i] = unanimous
		}
	}
	return left
}

// vote adds +1 for inside and -1 for outside to every cell on a line that has a vote on it.
func (s *Surface) vote(votes []int8, axis int) {
	l := &s.Lattice
	a, b := (axis+1)%3, (axis+2)%3
	for q := range l.N[b] {
		for p := range l.N[a] {
			line := distinct(s.Lines[axis].Line(p, q))
			if len(line)%2 == 1 {
				continue
			}
			facing := facesAddUp(line)
			var c [3]int
			c[a], c[b] = p, q
			index, step, next := l.Index(c[0], c[1], c[2]), l.Step(axis), 0
			state, wound := int8(-1), 0
			for u := range l.N[axis] {
				for ; next < len(line) && line[next].At < float64(u); next++ {
					state, wound = -state, wound+line[next].turn()
				}
				if !facing || (wound != 0) == (state > 0) {
					votes[index] += state
				}
				index += step
			}
		}
	}
}

// turn returns what a crossing adds to the count of surfaces that one is inside of.
func (c *Crossing) turn() int {
	if c.Out {
		return -1
	}
	return 1
}

// facesAddUp reports whether a line leaves as often as it enters.
func facesAddUp(line []Crossing) bool {
	sum := 0
	for i := range line {
		sum += line[i].turn()
	}
	return sum == 0
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

// count labels the cells by their votes and returns those that are not unanimous.
func (s *Surface) count(votes []int8) (doubtful []int32) {
	for i, v := range votes {
		s.Inside[i] = v > 0
		if v > -unanimous && v < unanimous {
			doubtful = append(doubtful, int32(i))
		}
	}
	return doubtful
}

const (
	// asked is how many cells without doubt are asked for their winding numbers.
	asked = 256
	// trusted is the share of them that may differ for winding numbers to be trusted.
	trusted = 0.05
)

// settleByWinding labels the cells in doubt by their winding numbers. It reports false,
// and changes nothing, when winding numbers contradict the cells that are in no doubt: the
// facets do not agree which side is out.
func (s *Surface) settleByWinding(shell *geometry.Mesh, votes []int8, doubtful []int32) bool {
	winding := geometry.NewWinding(geometry.NewTree(shell))
	in := func(i int32) bool { return math.Abs(winding.At(s.Lattice.Centre(i))) > 0.5 }
	differ, all := 0, 0
	for _, i := range sampled(votes) {
		all++
		if in(i) != s.Inside[i] {
			differ++
		}
	}
	s.Split = float64(differ) / float64(max(1, all))
	if s.Split > trusted {
		return false
	}
	for _, i := range doubtful {
		s.Inside[i] = in(i)
	}
	return true
}

// sampled returns some of the cells that all three axes place inside.
func sampled(votes []int8) (cells []int32) {
	var inside []int32
	for i, v := range votes {
		if v == unanimous {
			inside = append(inside, int32(i))
		}
	}
	for i := 0; i < len(inside); i += len(inside)/asked + 1 {
		cells = append(cells, inside[i])
	}
	return cells
}

// relaxRounds is how often cells in doubt look at their neighbours.
const relaxRounds = 12

// relax lets the cells in doubt follow their neighbours.
func (s *Surface) relax(votes []int8, doubtful []int32) {
	for range relaxRounds {
		changed := 0
		for _, i := range doubtful {
			sum := int(votes[i])
			s.eachUncut(i, func(n int32) {
				if s.Inside[n] {
					sum += 2
				} else {
					sum -= 2
				}
			})
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
