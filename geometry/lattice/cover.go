package lattice

import (
	"math/bits"

	"evenwall/geometry"
)

// coverLines is the number of sub lines a side that measure how much of a link's face a
// sheet takes.
const coverLines = 4

// cover is the part of a link's face that sheets take.
type cover struct {
	lines uint32  // bit set of the sub lines that they take
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
				c[axis] = int(x.At + onCentre) // a sheet through cell centres lies on one link, not by halves on two
				if x.At >= 0 && c[axis] < l.N[axis] {
					mark(tallies, l.Index(c[0], c[1], c[2]), bit, x)
				}
			}
		}
	}
	out := make(map[int32]cover, len(tallies))
	for key, t := range tallies {
		share := float64(bits.OnesCount32(t.lines)) / (coverLines * coverLines)
		out[key] = cover{lines: t.lines, share: share, at: t.sum / float64(t.count), face: t.face}
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

// Parted returns, for each axis, the links whose line from centre to centre a sheet crosses, by
// the linear index of their lower cell. Sub lines may miss a sheet that stands steep to the link.
func Parted(l Lattice, sheets *geometry.Mesh) (links [3]map[int32]bool) {
	for axis := range links {
		links[axis] = map[int32]bool{}
		lines := cross(&l, sheets, axis, 1)
		for q := range lines.counts[1] {
			for p := range lines.counts[0] {
				var c [3]int
				c[(axis+1)%3], c[(axis+2)%3] = p, q
				for _, x := range lines.Line(p, q) {
					if c[axis] = int(x.At + onCentre); x.At >= 0 && c[axis] < l.N[axis] {
						links[axis][l.Index(c[0], c[1], c[2])] = true
					}
				}
			}
		}
	}
	return links
}

// within takes the share of the part of the face that lies in the tank: where a sheet meets
// the shell, the rest of the face lies outside, and no current leaks past the sheet there.
func (c cover) within(s *Surface, cell [3]int, axis int) cover {
	if c.share == 0 || c.share == 1 {
		return c
	}
	a, b := (axis+1)%3, (axis+2)%3
	lowA, highA := s.room(cell, a)
	lowB, highB := s.room(cell, b)
	inside := 0
	for q := range coverLines {
		for p := range coverLines {
			da, db := subLine(p), subLine(q)
			taken := c.lines&(uint32(1)<<(q*coverLines+p)) != 0
			if taken || (da > lowA && da < highA && db > lowB && db < highB) {
				inside++
			}
		}
	}
	c.share = float64(bits.OnesCount32(c.lines)) / float64(inside)
	return c
}

// subLine returns how far sub line i stands off the cell's centre, in spacings.
func subLine(i int) float64 { return (float64(i)+0.5)/coverLines - 0.5 }

// room returns how far the inside reaches from a cell's centre back and ahead along an axis,
// in spacings, as far as the next centres.
func (s *Surface) room(cell [3]int, axis int) (back, ahead float64) {
	line := s.Lines[axis].Line(cell[(axis+1)%3], cell[(axis+2)%3])
	back, ahead = -1, 1
	if cuts := between(line, cell[axis]-1); len(cuts) > 0 {
		back = cuts[len(cuts)-1].At - float64(cell[axis])
	}
	if cuts := between(line, cell[axis]); len(cuts) > 0 {
		ahead = cuts[0].At - float64(cell[axis])
	}
	return back, ahead
}
