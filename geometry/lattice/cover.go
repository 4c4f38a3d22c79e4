package lattice

import "math/bits"

// coverLines is the number of sub lines a side that measure how much of a link's face a
// sheet takes.
const coverLines = 4

// cover is the part of a link's face that sheets take.
type cover struct {
	share float64 // of the face, 0 to 1
	at    float64 // mean place along the link, lattice units
	face  int32   // a facet of the sheets
}

// tally collects the sub lines of one link that a sheet crosses.
type tally struct {
	lines uint32 // bit set of sub lines
	sum   float64
	count int
	face  int32
}

// covers measures, for every link along axis that a sheet touches, how much of its face
// is taken; the key is the linear index of the link's lower cell. An even spread of
// coverLines² lines stands for the face.
func (b *builder) covers(axis int) map[int32]cover {
	if b.Sheets == nil || len(b.Sheets.Faces) == 0 {
		return nil
	}
	l := &b.q.Lattice
	lines := cross(l, b.Sheets, axis, coverLines)
	tallies := map[int32]*tally{}
	for q := range lines.counts[1] {
		for p := range lines.counts[0] {
			bit := uint32(1) << ((q%coverLines)*coverLines + p%coverLines)
			var c [3]int
			c[(axis+1)%3], c[(axis+2)%3] = p/coverLines, q/coverLines
			for _, x := range lines.Line(p, q) {
				c[axis] = int(x.At)
				if x.At >= 0 && c[axis] < l.N[axis] {
					mark(tallies, l.Index(c[0], c[1], c[2]), bit, x)
				}
			}
		}
	}
	out := make(map[int32]cover, len(tallies))
	for key, t := range tallies {
		share := float64(bits.OnesCount32(t.lines)) / (coverLines * coverLines)
		out[key] = cover{share: share, at: t.sum / float64(t.count), face: t.face}
	}
	return out
}

// mark notes one crossing of a sub line.
func mark(tallies map[int32]*tally, key int32, bit uint32, x Crossing) {
	t := tallies[key]
	if t == nil {
		t = &tally{face: x.Face}
		tallies[key] = t
	}
	t.lines |= bit
	t.sum += x.At
	t.count++
}
