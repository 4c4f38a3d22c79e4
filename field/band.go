package field

import (
	"math"

	"evenwall/geometry"
)

// band is a strip of a rod's surface of revolution, the frustum between two circles. It
// gives off current evenly over its area.
type band struct {
	at, axis geometry.Vec    // a point of the rod's axis and its direction there, tip to top
	across   [2]geometry.Vec // unit, square to the axis and to each other
	start    float64         // of at, m from the rod's tip along the rod
	s0, s1   float64         // along axis from at, m
	r0, r1   float64         // radii at s0, s1, m
	flat     float64         // m; above 0: an endless cylinder of which a layer so thick is looked at
	metal    bool            // bare; false: plastic, no current through it
	rod      int             // which rod
}

// area returns the band's area, m² (a frustum's side).
func (b *band) area() float64 {
	return math.Pi * (b.r0 + b.r1) * math.Hypot(b.s1-b.s0, b.r1-b.r0)
}

// normal returns the outward normal in the meridian plane: away from the axis, and along it.
func (b *band) normal() (nr, ns float64) {
	ds, dr := b.s1-b.s0, b.r1-b.r0
	l := math.Hypot(ds, dr)
	return ds / l, -dr / l
}

// middle returns the distance along the axis and the radius half way.
func (b *band) middle() (s, r float64) { return (b.s0 + b.s1) / 2, (b.r0 + b.r1) / 2 }

// ring returns the circle at fraction t of the way from s0 to s1 and the share of the
// band's current for a unit of t there.
func (b *band) ring(t float64) (ring, float64) {
	s, r := b.s0+t*(b.s1-b.s0), b.r0+t*(b.r1-b.r0)
	return ring{b.at.AddScaled(b.axis, s), b.axis, r}, 2 * r / (b.r0 + b.r1)
}

// image returns the band mirrored in a plane.
func (b band) image(m geometry.Plane) band {
	b.at = b.at.AddScaled(m.Normal, -2*m.Height(b.at))
	mirrored := func(v geometry.Vec) geometry.Vec { return v.AddScaled(m.Normal, -2*m.Normal.Dot(v)) }
	b.axis, b.across = mirrored(b.axis), [2]geometry.Vec{mirrored(b.across[0]), mirrored(b.across[1])}
	return b
}

// mirrorDepth is how many reflections in turn are followed between several mirrors; what
// is left out is far away and smooth.
const mirrorDepth = 4

// images returns the band's mirror images: one for one plane, which is exact, and for
// several those of their images in turn.
func (b band) images(mirrors []geometry.Plane) []band {
	if len(mirrors) == 1 {
		return []band{b.image(mirrors[0])}
	}
	var out []band
	var reflect func(b band, last, depth int)
	reflect = func(b band, last, depth int) {
		for i, m := range mirrors {
			if i != last && depth > 0 {
				mirrored := b.image(m)
				out = append(out, mirrored)
				reflect(mirrored, i, depth-1)
			}
		}
	}
	reflect(b, -1, mirrorDepth)
	return out
}

// Gauss–Legendre rules on [0, 1]: places and weights.
var (
	gauss1 = [][2]float64{{0.5, 1}}
	gauss2 = [][2]float64{{0.5 - 0.5*0.5773502691896257, 0.5}, {0.5 + 0.5*0.5773502691896257, 0.5}}
	gauss3 = [][2]float64{{0.5 - 0.5*0.7745966692414834, 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + 0.5*0.7745966692414834, 5.0 / 18}}
)

// rule returns the rule that integrates the band's field at p to about 1e-4: fewer points
// the farther p is in lengths of the band.
func (b *band) rule(p geometry.Vec) [][2]float64 {
	s, r := b.middle()
	d := p.Sub(b.at.AddScaled(b.axis, s))
	away := math.Max(0, math.Sqrt(d.Dot(d))-r)
	length := math.Hypot(b.s1-b.s0, b.r1-b.r0)
	switch {
	case away > 12*length:
		return gauss1
	case away > 2.5*length:
		return gauss2
	default:
		return gauss3
	}
}

// bandFar is the distance from a cylinder's middle, over that of its edge, from which on it is taken
// by its multipoles: what they leave out is 1e-5 of the potential.
const bandFar = 4

// afar returns the place of p about the middle of a cylinder, away from its axis and along it, and
// whether it is far from it.
func (b *band) afar(p geometry.Vec) (rho, z float64, out geometry.Vec, ok bool) {
	s, r := b.middle()
	d := p.Sub(b.at.AddScaled(b.axis, s))
	half, r2 := (b.s1-b.s0)/2, d.Dot(d)
	if b.r0 != b.r1 || r2 < bandFar*bandFar*(half*half+r*r) {
		return 0, 0, out, false
	}
	z = d.Dot(b.axis)
	out = d.AddScaled(b.axis, -z)
	if rho = out.Norm(); rho > 0 {
		out = out.Scale(1 / rho)
	}
	return rho, z, out, true
}

// multipoles returns those of a cylinder about its middle.
func (b *band) multipoles() *multipoles {
	l2 := (b.s1 - b.s0) * (b.s1 - b.s0)
	m := evenMultipoles(l2/12, l2*l2/80, l2*l2*l2/448, b.r0*b.r0)
	return &m
}

// potential returns kappa times the band's potential at p for unit current, 1/m, p at
// least about half the band's length away.
func (b *band) potential(p geometry.Vec) float64 {
	if b.flat > 0 {
		v, _ := b.endless(p)
		return v
	}
	if rho, z, _, ok := b.afar(p); ok {
		v, _, _ := b.multipoles().flux(rho, z)
		return v
	}
	sum := 0.0
	for _, q := range b.rule(p) {
		g, share := b.ring(q[0])
		sum += q[1] * share * g.potential(p)
	}
	return sum
}

// flux returns kappa times the potential, 1/m, and the current density, 1/m², at p.
func (b *band) flux(p geometry.Vec) (v float64, j geometry.Vec) {
	if b.flat > 0 {
		return b.endless(p)
	}
	if rho, z, out, ok := b.afar(p); ok {
		v, jr, jz := b.multipoles().flux(rho, z)
		return v, out.Scale(jr).AddScaled(b.axis, jz)
	}
	for _, q := range b.rule(p) {
		g, share := b.ring(q[0])
		v1, j1 := g.flux(p)
		v, j = v+q[1]*share*v1, j.AddScaled(j1, q[1]*share)
	}
	return v, j
}

// endless returns the same for an endless cylinder: outside it a line source's, inside the
// potential of its surface.
func (b *band) endless(p geometry.Vec) (v float64, j geometry.Vec) {
	d := p.Sub(b.at)
	d = d.AddScaled(b.axis, -d.Dot(b.axis))
	rho := d.Norm()
	_, r := b.middle()
	if rho < r {
		return -math.Log(r) / (2 * math.Pi * b.flat), geometry.Vec{}
	}
	return -math.Log(rho) / (2 * math.Pi * b.flat), d.Scale(1 / (2 * math.Pi * b.flat * rho * rho))
}
