package field

import (
	"math"

	"evenwall/geometry"
)

// ring is a circular source that gives off unit current evenly, in liquid without end.
type ring struct {
	centre geometry.Vec // m
	axis   geometry.Vec // unit
	radius float64      // m
}

// elliptic returns the complete elliptic integrals K and E of parameter m = k², by the
// arithmetic–geometric mean (Abramowitz and Stegun 1964, 17.6).
func elliptic(m float64) (k, e float64) {
	a, b, c := 1.0, math.Sqrt(1-m), math.Sqrt(m)
	sum, power := c*c/2, 0.5
	for range 12 {
		if math.Abs(c) < 1e-9 {
			break
		}
		a, b, c = (a+b)/2, math.Sqrt(a*b), (a-b)/2
		power *= 2
		sum += power * c * c
	}
	k = math.Pi / (2 * a)
	return k, k * (1 - sum)
}

// meridian returns the point's coordinates about the ring: distance from the axis,
// height over the ring's plane, and the unit vector away from the axis.
func (g *ring) meridian(p geometry.Vec) (rho, z float64, out geometry.Vec) {
	d := p.Sub(g.centre)
	z = d.Dot(g.axis)
	d = d.AddScaled(g.axis, -z)
	rho = d.Norm()
	if rho > 0 {
		out = d.Scale(1 / rho)
	}
	return rho, z, out
}

// potential returns kappa times the potential at p, 1/m.
// Jackson (1999), problem 3.14 in closed form: K(m) / (2 pi² sqrt((rho+a)² + z²)), from memory.
func (g *ring) potential(p geometry.Vec) float64 {
	rho, z, _ := g.meridian(p)
	return ringPotential(g.radius, rho, z)
}

func ringPotential(a, rho, z float64) float64 {
	if isFar(a, rho, z) {
		v, _, _ := ringFromAfar(a, rho, z)
		return v
	}
	beta := (rho+a)*(rho+a) + z*z
	k, _ := elliptic(math.Min(4*a*rho/beta, 1-1e-15))
	return k / (2 * math.Pi * math.Pi * math.Sqrt(beta))
}

// flux returns the potential times kappa, 1/m, and the current density, 1/m², at p.
func (g *ring) flux(p geometry.Vec) (potential float64, density geometry.Vec) {
	rho, z, out := g.meridian(p)
	v, jr, jz := ringFlux(g.radius, rho, z)
	return v, out.Scale(jr).Add(g.axis.Scale(jz))
}

// ringFlux returns kappa times the potential, 1/m, and the components of the current
// density, 1/m², away from the axis and along it, at distance rho from the axis of a ring
// of radius a and height z over its plane: the derivatives of potential.
func ringFlux(a, rho, z float64) (v, jr, jz float64) {
	if isFar(a, rho, z) {
		return ringFromAfar(a, rho, z)
	}
	return ringNear(a, rho, z)
}

// ringNear is ringFlux by elliptic integrals.
func ringNear(a, rho, z float64) (v, jr, jz float64) {
	beta, near := (rho+a)*(rho+a)+z*z, (rho-a)*(rho-a)+z*z
	k, e := elliptic(math.Min(4*a*rho/beta, 1-1e-15))
	root := math.Sqrt(beta)
	v = k / (2 * math.Pi * math.Pi * root)
	jz = z * e / (2 * math.Pi * math.Pi * root * near)
	if rho > 1e-9*a {
		jr = (k - (a*a-rho*rho+z*z)/near*e) / (4 * math.Pi * math.Pi * rho * root)
	}
	return v, jr, jz
}

// far is the distance, in radii of a ring, from which on it is taken by its multipoles: what
// they leave out is less than 2e-7 of the potential.
const far = 6

func isFar(a, rho, z float64) bool { return rho*rho+z*z > far*far*a*a }

// ringFromAfar is ringFlux by the ring's multipoles.
func ringFromAfar(a, rho, z float64) (v, jr, jz float64) {
	m := evenMultipoles(0, 0, 0, a*a)
	return m.flux(rho, z)
}

// multipoles are those of unit current that is given off round an axis, alike on both sides of a
// middle, of order 2, 4 and 6: m², m⁴, m⁶.
type multipoles [3]float64

// evenMultipoles returns them for the mean second, fourth and sixth power of the distance along the
// axis and the square of the radius: those of a point are R^n P_n(c), R its distance and c its cosine.
func evenMultipoles(s2, s4, s6, a2 float64) multipoles {
	return multipoles{s2 - a2/2, s4 - 3*s2*a2 + 3*a2*a2/8, s6 - 15*s4*a2/2 + 45*s2*a2*a2/8 - 5*a2*a2*a2/16}
}

// flux returns kappa times the potential, 1/m, and the components of the current density, 1/m²,
// away from the axis and along it, at distance rho from the axis and z along it. Order n has the
// potential M P_n(c)/r^(n+1), c the cosine from the axis, and falls along the axis as the next
// Legendre polynomial, (n+1) M P_(n+1)(c)/r^(n+2), and by all of (n+1)/r times itself along r
// (Jackson 1999, section 3.3, from memory).
func (m *multipoles) flux(rho, z float64) (v, jr, jz float64) {
	r2 := rho*rho + z*z
	under := 1 / r2
	c2, unit := z*z*under, math.Sqrt(under)/(4*math.Pi)
	p2 := 1.5*c2 - 0.5 // by the recurrence; those of odd order less a factor of c
	p3 := (5*p2 - 2) / 3
	p4 := (7*c2*p3 - 3*p2) / 4
	p5 := (9*p4 - 4*p3) / 5
	p6 := (11*c2*p5 - 5*p4) / 6
	p7 := (13*p6 - 6*p5) / 7
	m2, m4, m6 := m[0]*under, m[1]*under*under, m[2]*under*under*under
	v = unit * (1 + m2*p2 + m4*p4 + m6*p6)
	jz = unit * z * under * (1 + 3*m2*p3 + 5*m4*p5 + 7*m6*p7)
	if rho*rho > 1e-18*r2 {
		jr = (unit*(1+3*m2*p2+5*m4*p4+7*m6*p6) - z*jz) / rho
	}
	return v, jr, jz
}
