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

// ringFromAfar is ringFlux by the ring's multipoles of order n = 0, 2, 4 and 6, whose
// potentials are a^n P_n(0) P_n(c)/r^(n+1), c the cosine from the axis. Each falls along the axis
// as the next Legendre polynomial, (n+1) P_(n+1)(c)/r^(n+2), and by all of (n+1)/r times itself
// along r (Jackson 1999, section 3.3, from memory).
func ringFromAfar(a, rho, z float64) (v, jr, jz float64) {
	r2 := rho*rho + z*z
	t, c2, unit := a*a/r2, z*z/r2, 1/(4*math.Pi*math.Sqrt(r2))
	p2 := 1.5*c2 - 0.5 // by the recurrence; those of odd order less a factor of c
	p3 := (5*p2 - 2) / 3
	p4 := (7*c2*p3 - 3*p2) / 4
	p5 := (9*p4 - 4*p3) / 5
	p6 := (11*c2*p5 - 5*p4) / 6
	p7 := (13*p6 - 6*p5) / 7
	v = unit * (1 + t*(-p2/2+t*(p4*3/8-t*p6*5/16)))
	jz = unit * z / r2 * (1 + t*(-p3*3/2+t*(p5*15/8-t*p7*35/16)))
	if rho > 1e-9*a {
		jr = (unit*(1+t*(-p2*3/2+t*(p4*15/8-t*p6*35/16))) - z*jz) / rho
	}
	return v, jr, jz
}
