package lattice

import (
	"math"

	"evenwall/geometry"
)

// leastTheta keeps a cell centre that lies on the wall from having no distance to it, in
// units of the spacing.
const leastTheta = 1e-3

// Filling says what of a tank holds liquid.
type Filling struct {
	Surface *Surface
	Shell   *geometry.Mesh                 // the mesh that Surface was made from
	Sheets  *geometry.Mesh                 // internal sheets, wall on both faces; nil: none
	Level   float64                        // m; a cell face
	Skim    float64                        // steel up to so far above the level is wetted, m
	Opening func(p geometry.Vec) bool      // the wall at p is an opening or a plug: no current; nil: none
	Dry     func(centre geometry.Vec) bool // trapped air at a cell centre below the level; nil: none
}

// Link is a link from a liquid cell that ends at steel.
type Link struct {
	Cell  int32   // number of the cell
	Axis  int8    // 0, 1, 2
	Ahead bool    // towards the higher coordinate
	Theta float64 // distance to the steel along the link, in spacings, 0 < Theta ≤ 1
	Cover float64 // share of the link's face that the steel takes: 1, or less at a sheet's edge
	Face  int32   // facet of the shell; sheets' facets follow the shell's; -1: a hole taken as wall
}

// Direction returns the unit vector of the link, from the cell to the steel.
func (k *Link) Direction() geometry.Vec {
	s := -1.0
	if k.Ahead {
		s = 1
	}
	return geometry.Vec{}.WithAxis(int(k.Axis), s)
}

// Liquid is the wetted part of a lattice: its cells, how far each link between two of
// them is open, and the links that end at steel. A link that ends at the liquid surface,
// at an opening or at a plug is in neither list: no current passes.
type Liquid struct {
	Lattice Lattice
	*Numbering
	Open  [3][]float32 // share of the face open to the neighbour ahead along each axis, up to 1.5 along an insulator; 0: no neighbour
	Walls []Link
	Holes int // links that left the tank through a hole in the mesh and were closed as wall
}

// Point returns the centre of cell n, m.
func (q *Liquid) Point(n int32) geometry.Vec { return q.Lattice.Centre(q.Keys[n]) }

// Fill numbers the liquid cells and finds what each of their links meets.
func Fill(f Filling) *Liquid {
	l := f.Surface.Lattice
	top := int(math.Round((f.Level-l.Origin.Z)/l.H+0.5)) * int(l.Step(2)) // first dry index
	onWall := f.Surface.onWall()
	var keys []int32
	for i := range min(top, l.Cells()) {
		if f.Surface.Inside[i] && !onWall[int32(i)] && (f.Dry == nil || !f.Dry(l.Centre(int32(i)))) {
			keys = append(keys, int32(i))
		}
	}
	q := &Liquid{Lattice: l, Numbering: Number(l.N, keys)}
	b := builder{Filling: f, q: q, wet: make([]int32, l.Cells())}
	for n, key := range keys {
		b.wet[key] = int32(n) + 1
	}
	for axis := range 3 {
		q.Open[axis] = make([]float32, len(keys))
		b.link(axis)
	}
	b.squeeze()
	return q
}

// onWall returns the cells whose centre the shell passes through. They hold no liquid: lines
// in the plane of a wall may call them inside or outside by rounding alone.
func (s *Surface) onWall() map[int32]bool {
	l, out := &s.Lattice, map[int32]bool{}
	for axis := range s.Lines {
		a, b := (axis+1)%3, (axis+2)%3
		for q := range l.N[b] {
			for p := range l.N[a] {
				for _, c := range s.Lines[axis].Line(p, q) {
					whole := math.Round(c.At)
					if math.Abs(c.At-whole) < onCentre && whole >= 0 && int(whole) < l.N[axis] {
						var cell [3]int
						cell[a], cell[b], cell[axis] = p, q, int(whole)
						out[l.Index(cell[0], cell[1], cell[2])] = true
					}
				}
			}
		}
	}
	return out
}

// builder holds what Fill needs while it visits the links.
type builder struct {
	Filling
	q     *Liquid
	wet   []int32 // number + 1 of a liquid cell, 0 elsewhere
	plugs []plug
}

// link visits every link along one axis that has liquid at an end.
func (b *builder) link(axis int) {
	l, q := &b.q.Lattice, b.q
	shell, step := &b.Surface.Lines[axis], l.Step(axis)
	covers := b.covers(axis)
	for n, key := range q.Keys {
		i, j, k := l.Coordinates(key)
		c := [3]int{i, j, k}
		line := shell.Line(c[(axis+1)%3], c[(axis+2)%3])
		ahead := meeting{line: line, cuts: between(line, c[axis]), from: c[axis], cover: covers[key].within(b.Surface, c, axis), ahead: true}
		if other := b.wet[key+step]; other > 0 && len(ahead.cuts) == 0 {
			q.Open[axis][n] = float32(1 - ahead.cover.share)
			b.sheet(int32(n), axis, ahead)
		} else {
			b.end(int32(n), axis, ahead)
		}
		before := c
		before[axis]--
		back := meeting{line: line, cuts: between(line, c[axis]-1), from: c[axis], cover: covers[key-step].within(b.Surface, before, axis)}
		if other := b.wet[key-step]; other > 0 && len(back.cuts) == 0 {
			b.sheet(int32(n), axis, back)
		} else {
			b.end(int32(n), axis, back)
		}
	}
}

// meeting is what one link from a cell meets.
type meeting struct {
	line  []Crossing // of the shell, on all of the lattice line, low end first
	cuts  []Crossing // those of them on the link
	from  int        // the cell's own coordinate along the axis
	cover cover      // of the sheets
	ahead bool
}

// nearest returns the distance to the shell from the cell and its facet.
func (m *meeting) nearest() (theta float64, face int32, ok bool) {
	if len(m.cuts) == 0 {
		return m.atEnd()
	}
	if m.ahead {
		return m.cuts[0].At - float64(m.from), m.cuts[0].Face, true
	}
	c := m.cuts[len(m.cuts)-1]
	return float64(m.from) - c.At, c.Face, true
}

// onCentre is how near to a cell's centre, in spacings, a crossing counts as on it: the
// rounding that decides on which of two links it lies.
const onCentre = 1e-6

// atEnd finds a crossing on the centre of the cell that the link leads to, or starts from.
func (m *meeting) atEnd() (theta float64, face int32, ok bool) {
	end := float64(m.from - 1)
	if m.ahead {
		end = float64(m.from + 1)
	}
	for _, c := range m.line {
		switch {
		case math.Abs(c.At-float64(m.from)) < onCentre:
			return 0, c.Face, true
		case math.Abs(c.At-end) < onCentre:
			return 1, c.Face, true
		}
	}
	return 0, 0, false
}

// sheet adds the wall link of a sheet that lies, wholly or in part, across the link.
func (b *builder) sheet(n int32, axis int, m meeting) {
	if m.cover.share == 0 {
		return
	}
	theta := m.cover.at - float64(m.from)
	if !m.ahead {
		theta = -theta
	}
	face := m.cover.face + int32(len(b.Shell.Faces))
	b.add(Link{Cell: n, Axis: int8(axis), Ahead: m.ahead, Theta: theta, Cover: m.cover.share, Face: face})
}

// end adds what stands at the end of a link that leads to no liquid: steel, or nothing
// where it is the liquid's surface or an opening.
func (b *builder) end(n int32, axis int, m meeting) {
	theta, face, cut := m.nearest()
	if !cut {
		theta, face = 0.5, -1
	}
	k := Link{Cell: n, Axis: int8(axis), Ahead: m.ahead, Theta: theta, Cover: 1, Face: face}
	p := b.q.Point(n).AddScaled(k.Direction(), theta*b.q.Lattice.H)
	slack := b.Skim + 1e-7*b.q.Lattice.H
	surface := axis == 2 && m.ahead && p.Z > b.Level-slack
	if surface && !(cut && p.Z <= b.Level+slack) {
		return
	}
	if b.meetRim(p, &k); k.Cover < 1 && cut {
		b.plugs = append(b.plugs, plug{cell: n, side: sideOf(&k), depth: float32(theta), share: float32(1 - k.Cover)})
	}
	if k.Cover == 0 {
		return
	}
	if !cut {
		if b.Dry != nil && b.Dry(p) {
			return
		}
		b.q.Holes++
	}
	b.add(k)
}

func (b *builder) add(k Link) {
	k.Theta = math.Min(1, math.Max(leastTheta, k.Theta))
	b.q.Walls = append(b.q.Walls, k)
}

// EachOpen calls visit for the neighbours of cell n that an open link leads to, with the
// link's axis and open share.
func (q *Liquid) EachOpen(n int32, visit func(m int32, axis int, open float64)) {
	key := q.Keys[n]
	for axis := range 3 {
		if open := q.Open[axis][n]; open > 0 {
			visit(q.beside(n, key+q.Lattice.Step(axis)), axis, float64(open))
		}
		if m := q.beside(n, key-q.Lattice.Step(axis)); m >= 0 && q.Open[axis][m] > 0 {
			visit(m, axis, float64(q.Open[axis][m]))
		}
	}
}

// beside finds the cell with the given key, near cell n, or -1.
func (q *Liquid) beside(n, key int32) int32 {
	if m := n + key - q.Keys[n]; (m == n+1 || m == n-1) && m >= 0 && int(m) < len(q.Keys) && q.Keys[m] == key {
		return m
	}
	return q.Find(key)
}

// EachWithin calls visit for the cells whose centres lie in the box.
func (q *Liquid) EachWithin(box geometry.Box, visit func(n int32)) {
	l := &q.Lattice
	lo, hi := l.At(box.Min), l.At(box.Max)
	first := func(x float64) int { return max(0, int(math.Ceil(x))) }
	last := func(x float64, n int) int { return min(n-1, int(math.Floor(x))) }
	for k := first(lo.Z); k <= last(hi.Z, l.N[2]); k++ {
		for j := first(lo.Y); j <= last(hi.Y, l.N[1]); j++ {
			i0, i1 := first(lo.X), last(hi.X, l.N[0])
			if i1 < i0 {
				continue
			}
			n := q.from(l.Index(i0, j, k))
			for end := l.Index(i1, j, k); int(n) < len(q.Keys) && q.Keys[n] <= end; n++ {
				visit(n)
			}
		}
	}
}
