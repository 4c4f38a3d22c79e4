package field

import (
	"math"

	"evenwall/geometry"
)

// A link takes j times the normal's component along it for the current that passes it. Where
// the potential at the wall changes from place to place, as it does under a law of its own,
// current flows along the wall as well, -kappa times the slope of that potential, and has a
// component along the link too. Over a stretch of wall these cancel, but not at each cell. The
// slope is fitted to the potentials at the wall, slope·j + emf, that the contacts of the cells beside
// it have, where each cell's centre has its foot.

// aside is what a contact's slide is taken from.
type aside struct {
	from   int32           // the contact of the same cell whose link is nearest to the normal; -1: none
	beside [4]int32        // its neighbours on the wall, one column over; -1: none
	by     [4]geometry.Vec // slope of the potential for each volt that they have more, 1/m
}

// slides finds what every contact's slide is taken from.
func (s *solver) slides() []aside {
	out := make([]aside, len(s.contacts))
	at := make([]int32, s.Liquid.Len()) // place in bending.cells
	for i := range at {
		at[i] = -1
	}
	for i, cell := range s.bending.cells {
		at[cell] = int32(i)
	}
	const block = 1024
	parts := (len(out) + block - 1) / block
	spread(parts, func(part int) {
		for i := part * block; i < min(len(out), (part+1)*block); i++ {
			out[i] = s.columns(int32(i), at)
		}
	})
	return out
}

// steepest is how many cells away along its link the wall of a neighbour may be.
const steepest = 3

// columns returns what the slide of one contact is taken from.
func (s *solver) columns(i int32, at []int32) aside {
	c, out := &s.contacts[i], aside{from: -1}
	n, ok := s.outward(c)
	if !ok {
		return out
	}
	axis := 0
	for a := 1; a < 3; a++ {
		if math.Abs(n.Axis(a)) > math.Abs(n.Axis(axis)) {
			axis = a
		}
	}
	way := int32(math.Copysign(1, n.Axis(axis)))
	key := s.Liquid.Keys[c.link.Cell]
	if out.from = s.facing(key, axis, way, n, at); out.from < 0 {
		return out
	}
	c = &s.contacts[out.from]
	for k := range out.beside {
		a, side := (axis+1+k/2)%3, int32(2*(k%2)-1)
		wall := float64(way)*c.link.Theta - float64(side)*n.Axis(a)/n.Axis(axis)
		out.beside[k] = s.column(key+side*s.Liquid.Lattice.Step(a), axis, way, wall, n, at)
	}
	s.fitSlope(&out, n)
	return out
}

// fitSlope sets by: least squares over the places of the neighbours' feet on the tangent plane.
func (s *solver) fitSlope(a *aside, n geometry.Vec) {
	h := s.Liquid.Lattice.H
	u, v := n.Perpendicular()
	var off [4][2]float64
	m := [3]float64{1e-6 * h * h, 0, 1e-6 * h * h}
	here := s.Liquid.Point(s.contacts[a.from].link.Cell)
	for k, o := range a.beside {
		if o < 0 {
			continue
		}
		d := s.Liquid.Point(s.contacts[o].link.Cell).Sub(here)
		off[k] = [2]float64{d.Dot(u), d.Dot(v)}
		m[0], m[1], m[2] = m[0]+off[k][0]*off[k][0], m[1]+off[k][0]*off[k][1], m[2]+off[k][1]*off[k][1]
	}
	det := m[0]*m[2] - m[1]*m[1]
	for k, d := range off {
		a.by[k] = u.Scale((m[2]*d[0]-m[1]*d[1])/det).AddScaled(v, (m[0]*d[1]-m[1]*d[0])/det)
	}
}

// column returns the contact that looks the same way as n in the column of cells along an axis
// through a key, its wall expected so many spacings along; -1 where there is none.
func (s *solver) column(key int32, axis int, way int32, wall float64, n geometry.Vec, at []int32) int32 {
	if math.Abs(wall) > steepest {
		return -1
	}
	first := int32(math.Ceil(float64(way)*wall)-1) * way
	for _, o := range []int32{0, -1, 1} {
		if found := s.facing(key+(first+o)*s.Liquid.Lattice.Step(axis), axis, way, n, at); found >= 0 {
			return found
		}
	}
	return -1
}

// leastAlike is the least cosine between normals of neighbours on one stretch of wall.
const leastAlike = 0.8

// facing returns the contact along an axis of the cell with a key that looks the same way as n
// and is outside the rods' region, or -1.
func (s *solver) facing(key int32, axis int, way int32, n geometry.Vec, at []int32) int32 {
	cell := s.Liquid.Find(key)
	if cell < 0 || at[cell] < 0 {
		return -1
	}
	for _, k := range s.bending.of(int(at[cell]), s.contacts) {
		o := &s.contacts[k]
		if int(o.link.Axis) != axis || o.link.Ahead != (way > 0) || o.trace != nil {
			continue
		}
		if m, ok := s.outward(o); ok && m.Dot(n) > leastAlike {
			return k
		}
	}
	return -1
}

// outward returns the wall's normal at a contact, out of the liquid.
func (s *solver) outward(c *contact) (geometry.Vec, bool) {
	if s.Normal == nil || c.link.Face < 0 || c.held != nil {
		return geometry.Vec{}, false
	}
	n := s.Normal(c.link.Face)
	if n.Dot(c.link.Direction()) < 0 {
		n = n.Scale(-1)
	}
	return n, true
}

// slide adds to the sources of the i-th wall cell what flows along the wall.
func (s *solver) slide(i int, weight [3]float64) {
	b, h := s.bending, s.Liquid.Lattice.H
	if s.region.member != nil && s.region.member[b.cells[i]] {
		return
	}
	for _, k := range b.of(i, s.contacts) {
		c, a := &s.contacts[k], &s.sliding[k]
		if a.from < 0 || c.slope == 0 {
			continue
		}
		share := c.slope / (c.slope + c.depth/s.Conductivity)
		out := c.link.Direction().Scale(share * s.Conductivity * (1 - weight[c.link.Axis]) * c.link.Cover * h * h)
		over := s.over(c, a)
		if over == nil {
			s.slideAs(i, a, out)
			continue
		}
		s.slideAs(i, a, out.Scale(1-c.link.Theta))
		s.slideAs(i, over, out.Scale(c.link.Theta))
	}
}

// over returns what the slide is taken from in the column of cells that a link across the columns
// leads to, nil where the link is along its column or there is none. The link meets the wall between
// the two columns, so the slope there is theirs in proportion.
func (s *solver) over(c *contact, a *aside) *aside {
	column := int(s.contacts[a.from].link.Axis)
	if column == int(c.link.Axis) {
		return nil
	}
	k := 2 * ((int(c.link.Axis)-column+3)%3 - 1)
	if c.link.Ahead {
		k++
	}
	o := a.beside[k]
	if o < 0 || s.sliding[o].from < 0 {
		return nil
	}
	return &s.sliding[o]
}

// slideAs adds out times the slope of the wall's potential to the source of the i-th wall cell.
func (s *solver) slideAs(i int, a *aside, out geometry.Vec) {
	for k, o := range a.beside {
		if o >= 0 {
			g := out.Dot(a.by[k])
			s.slideTo(i, o, g)
			s.slideTo(i, a.from, -g)
		}
	}
}

// slideTo adds to the source of the i-th wall cell g times the potential of the wall at a contact.
func (s *solver) slideTo(i int, contact int32, g float64) {
	b, c := s.bending, &s.contacts[contact]
	share := c.slope / (c.slope + c.depth/s.Conductivity) // of what the cell has over the emf
	b.base[i] += g * (1 - share) * c.emf
	b.own[i] += g * share
	if c.link.Cell != b.cells[i] {
		b.terms = append(b.terms, bendTerm{c.link.Cell + 1, float32(-g * share)})
	}
}
