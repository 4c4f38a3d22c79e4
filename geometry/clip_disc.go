package geometry

import "math"

// discSides is the number of sides of the polygon that stands for a circle in cuts.
const discSides = 128

// Disc is a flat round region: the points nearer to its axis than Radius and nearer to
// its plane than Depth. It stands for an opening in a wall.
type Disc struct {
	Centre Vec
	Axis   Vec     // any length but zero
	Radius float64 // m
	Depth  float64 // m to either side
}

// snap is the share of the radius by which a facet may reach into the disc, or out of
// it, and still be taken as a whole: a rim that is already in the mesh stays as it is.
const snap = 0.005

// Cut splits m at the disc's cylinder and its two end planes, the circle as a polygon of
// 128 sides with the circle's area: inside and outside together are m. The slices give the
// face of m each facet comes from. A facet that crosses the circle by less than half a per
// cent of the radius is not cut but counted where most of it lies.
func (d Disc) Cut(m *Mesh) (outside, inside Mesh, fromOutside, fromInside []int32) {
	cut := discCut{disc: d, planes: d.planes(), bounds: d.bounds()}
	cut.outside, cut.inside = newSoup(m.Vertices), newSoup(m.Vertices)
	for i, f := range m.Faces {
		cut.source = int32(i)
		t := m.Triangle(i)
		switch cut.place(t) {
		case wholeOutside:
			cut.outside.keep(f)
			cut.fromOutside = append(cut.fromOutside, int32(i))
		case wholeInside:
			cut.inside.keep(f)
			cut.fromInside = append(cut.fromInside, int32(i))
		default:
			cut.outside.expect(f)
			cut.inside.expect(f)
			cut.split(t)
		}
	}
	return cut.outside.mesh, cut.inside.mesh, cut.fromOutside, cut.fromInside
}

type discCut struct {
	disc                    Disc
	planes                  []Plane
	bounds                  Box
	outside, inside         *soup
	source                  int32
	fromOutside, fromInside []int32
	rest, kept, beyond      []Vec // polygons at work in split
}

type placement int

const (
	wholeOutside placement = iota
	wholeInside
	crossing
)

// place decides about a facet without cutting it where that can be done.
func (c *discCut) place(t Triangle) placement {
	if !c.bounds.Overlaps(t.Bounds()) {
		return wholeOutside
	}
	axis, slack := c.disc.Axis.Unit(), snap*c.disc.Radius
	corners := [3]Vec{t.A, t.B, t.C}
	far, near, high, low := 0.0, math.Inf(1), math.Inf(-1), math.Inf(1)
	for i, p := range corners {
		q := p.Sub(c.disc.Centre)
		z := q.Dot(axis)
		high, low = max(high, z), min(low, z)
		far = max(far, q.AddScaled(axis, -z).Norm())
		next := corners[(i+1)%3].Sub(c.disc.Centre)
		next = next.AddScaled(axis, -next.Dot(axis))
		flat := q.AddScaled(axis, -z)
		near = min(near, flat.Lerp(next, ClosestOnSegment(Vec{}, flat, next)).Norm())
	}
	switch {
	case low >= c.disc.Depth-slack || high <= slack-c.disc.Depth:
		return wholeOutside
	case far <= c.disc.Radius+slack && high <= c.disc.Depth+slack && low >= -c.disc.Depth-slack:
		return wholeInside
	case near >= c.disc.Radius-slack && !t.pierces(c.disc.Centre, axis):
		return wholeOutside
	default:
		return crossing
	}
}

// pierces reports whether the line through p along d goes through t.
func (t Triangle) pierces(p, d Vec) bool {
	a, b, c := t.A.Sub(p), t.B.Sub(p), t.C.Sub(p)
	u, v, w := d.Dot(a.Cross(b)), d.Dot(b.Cross(c)), d.Dot(c.Cross(a))
	return (u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0)
}

// split peels off t what lies beyond each plane in turn; the rest is inside.
func (c *discCut) split(t Triangle) {
	c.rest = append(c.rest[:0], t.A, t.B, t.C)
	for _, plane := range c.planes {
		c.kept, c.beyond = c.kept[:0], c.beyond[:0]
		if !c.divide(plane) {
			continue
		}
		c.fan(c.outside, &c.fromOutside, c.beyond)
		c.rest, c.kept = c.kept, c.rest
		if len(c.rest) == 0 {
			return
		}
	}
	c.fan(c.inside, &c.fromInside, c.rest)
}

// divide shares the polygon rest out to kept, below the plane, and beyond, above it. It
// reports false when nothing is above.
func (c *discCut) divide(plane Plane) bool {
	last := len(c.rest) - 1
	before, hb := c.rest[last], c.height(plane, c.rest[last])
	above, below := false, false
	for _, p := range c.rest {
		h := c.height(plane, p)
		if (h < 0 && hb > 0) || (h > 0 && hb < 0) {
			x := between(before, p, hb, h)
			c.kept, c.beyond = append(c.kept, x), append(c.beyond, x)
		}
		if h <= 0 {
			c.kept = append(c.kept, p)
		}
		if h >= 0 {
			c.beyond = append(c.beyond, p)
		}
		above, below = above || h > 0, below || h < 0
		before, hb = p, h
	}
	if !below {
		c.kept = c.kept[:0]
	}
	return above
}

// height returns the height of p above the plane, or 0 where a cut that near would leave a sliver.
func (c *discCut) height(plane Plane, p Vec) float64 {
	h := plane.Height(p)
	if math.Abs(h) <= 1e-9*c.disc.Radius {
		return 0
	}
	return h
}

// fan adds a convex polygon as triangles.
func (c *discCut) fan(to *soup, from *[]int32, polygon []Vec) {
	for i := 2; i < len(polygon); i++ {
		if to.add(Triangle{polygon[0], polygon[i-1], polygon[i]}) {
			*from = append(*from, c.source)
		}
	}
}

// planes returns the sides of the prism, upper sides outward.
func (d Disc) planes() []Plane {
	axis := d.Axis.Unit()
	u, v := axis.Perpendicular()
	planes := []Plane{
		PlaneThrough(d.Centre.AddScaled(axis, d.Depth), axis),
		PlaneThrough(d.Centre.AddScaled(axis, -d.Depth), axis.Scale(-1)),
	}
	// a polygon with apothem r has area n r² tan(pi/n)
	apothem := d.Radius * math.Sqrt(math.Pi/discSides/math.Tan(math.Pi/discSides))
	for i := range discSides {
		s, c := math.Sincos(2 * math.Pi * float64(i) / discSides)
		n := u.Scale(c).AddScaled(v, s)
		planes = append(planes, PlaneThrough(d.Centre.AddScaled(n, apothem), n))
	}
	return planes
}

func (d Disc) bounds() Box {
	u, v := d.Axis.Perpendicular()
	axis := d.Axis.Unit().Scale(d.Depth)
	u, v = u.Scale(d.Radius*1.01), v.Scale(d.Radius*1.01)
	b := EmptyBox()
	for _, a := range [2]Vec{axis, axis.Scale(-1)} {
		for _, s := range [4]Vec{u.Add(v), u.Sub(v), v.Sub(u), u.Add(v).Scale(-1)} {
			b = b.Include(d.Centre.Add(a).Add(s))
		}
	}
	return b
}
