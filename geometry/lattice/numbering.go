package lattice

import "slices"

// Numbering gives the cells that hold liquid consecutive numbers, in the order of the
// linear index, and cuts them into runs within which every neighbour lies at a constant
// difference of numbers. A solver sweeps runs and never touches a dry cell.
type Numbering struct {
	N    [3]int  // of the lattice
	Keys []int32 // linear index of cell n, ascending
	Runs []Run
}

// Run is a stretch of cells First ≤ n < End along x. Neighbour n + Step[d] in direction
// d (−y, +y, −z, +z) exists for all cells of the run or for none; then Has[d] is false
// and Step[d] is 0.
type Run struct {
	First, End int32
	Step       [4]int32
	Has        [4]bool
	Odd        bool // i+j+k of the first cell is odd
	Left       bool // cell First-1 is its −x neighbour
	Right      bool // cell End is the +x neighbour of cell End-1
}

// OddAt reports whether i+j+k of the run's cell n is odd.
func (r *Run) OddAt(n int32) bool { return r.Odd != ((n-r.First)&1 == 1) }

// Directions of a run's steps.
const (
	BackY = iota
	AheadY
	BackZ
	AheadZ
)

// Number builds the numbering of the cells in keys, which must be sorted linear indices
// of a lattice of n cells. Two cells a step apart count as neighbours.
func Number(n [3]int, keys []int32) *Numbering {
	m := &Numbering{N: n, Keys: keys}
	rows := rowStarts(n, keys)
	steps := [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}
	for k := range n[2] {
		for j := range n[1] {
			var beside [4]cursor
			for d, s := range steps {
				beside[d] = newCursor(n, keys, rows, j+s[0], k+s[1])
			}
			m.appendRuns(rows, j, k, beside)
		}
	}
	return m
}

// rowStarts returns for each row (j, k) the number of its first cell.
func rowStarts(n [3]int, keys []int32) []int32 {
	rows := make([]int32, n[1]*n[2]+1)
	for _, key := range keys {
		rows[int(key)/n[0]+1]++
	}
	for i := 1; i < len(rows); i++ {
		rows[i] += rows[i-1]
	}
	return rows
}

// cursor walks along a neighbouring row.
type cursor struct {
	keys []int32
	base int32 // linear index of the row's cell 0
	next int32 // number of the next cell of the row
	end  int32
}

func newCursor(n [3]int, keys, rows []int32, j, k int) cursor {
	if j < 0 || k < 0 || j >= n[1] || k >= n[2] {
		return cursor{}
	}
	row := k*n[1] + j
	return cursor{keys, int32(row * n[0]), rows[row], rows[row+1]}
}

// at returns the number of the row's cell i, if it is there. i must not decrease.
func (c *cursor) at(i int32) (int32, bool) {
	for c.next < c.end && c.keys[c.next] < c.base+i {
		c.next++
	}
	return c.next, c.next < c.end && c.keys[c.next] == c.base+i
}

// appendRuns cuts the cells of row (j, k) into runs.
func (m *Numbering) appendRuns(rows []int32, j, k int, beside [4]cursor) {
	row := k*m.N[1] + j
	base := int32(row * m.N[0])
	for n := rows[row]; n < rows[row+1]; n++ {
		i := m.Keys[n] - base
		run := Run{First: n, End: n + 1, Odd: (int(i)+j+k)%2 == 1}
		for d := range beside {
			if number, ok := beside[d].at(i); ok {
				run.Step[d], run.Has[d] = number-n, true
			}
		}
		joined := n > rows[row] && m.Keys[n-1] == m.Keys[n]-1
		last := len(m.Runs) - 1
		if joined && m.Runs[last].Step == run.Step && m.Runs[last].Has == run.Has {
			m.Runs[last].End = n + 1
			continue
		}
		if joined {
			run.Left, m.Runs[last].Right = true, true
		}
		m.Runs = append(m.Runs, run)
	}
}

// Len returns the number of cells.
func (m *Numbering) Len() int { return len(m.Keys) }

// Find returns the number of the cell with the given linear index, or -1.
func (m *Numbering) Find(key int32) int32 {
	if n := m.from(key); int(n) < len(m.Keys) && m.Keys[n] == key {
		return n
	}
	return -1
}

// from returns the number of the first cell whose linear index is key or more.
func (m *Numbering) from(key int32) int32 {
	n, _ := slices.BinarySearch(m.Keys, key)
	return int32(n)
}
