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
	rest, next := []Triangle{t}, []Triangle(nil)
	for _, plane := range c.planes {
		next = next[:0]
		for _, piece := range rest {
			corners := [3]Vec{piece.A, piece.B, piece.C}
			h := c.heights(plane, corners)
			if h[0] <= 0 && h[1] <= 0 && h[2] <= 0 {
				next = append(next, piece)
				continue
			}
			kept, n := cutCorners(corners, h)
			next = append(next, kept[:n]...)
			beyond, n := cutCorners(corners, [3]float64{-h[0], -h[1], -h[2]})
			c.addAll(c.outside, &c.fromOutside, beyond[:n])
		}
		rest, next = next, rest
	}
	c.addAll(c.inside, &c.fromInside, rest)
}

// heights returns the corners' heights above the plane, none of them so small that a cut
// there would leave a sliver.
func (c *discCut) heights(plane Plane, corners [3]Vec) (h [3]float64) {
	for i, p := range corners {
		if z := plane.Height(p); math.Abs(z) > 1e-9*c.disc.Radius {
			h[i] = z
		}
	}
	return h
}

func (c *discCut) addAll(to *soup, from *[]int32, parts []Triangle) {
	for _, part := range parts {
		if to.add(part) {
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
