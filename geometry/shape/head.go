package shape

import (
	"fmt"
	"math"
)

// HeadKind is how the end of a drum is closed.
type HeadKind int

// The heads that a drum may have. The zero value is Flat.
const (
	Flat       HeadKind = iota
	Elliptical          // half an ellipsoid
	Dished              // torispherical: a spherical crown and a knuckle round its edge
)

// Head is the end of a drum. Sizes left at 0 take the usual ones for the drum's inside
// diameter D: Depth D/4 (the 2:1 head), Crown D and Knuckle 0.06 D (the ASME flanged
// and dished head; proportions from memory).
type Head struct {
	Kind    HeadKind
	Depth   float64 // Elliptical: from the straight part to the pole, m
	Crown   float64 // Dished: inside radius of the sphere, m
	Knuckle float64 // Dished: inside radius of the edge's rounding, m
}

// headProfile is a head made definite on a drum of radius a: the height of the wall
// over the end of the straight part, and its radius at each height.
type headProfile struct {
	kind           HeadKind
	a              float64 // radius of the drum, m
	depth          float64 // of the head, m
	crown, knuckle float64 // m
	ring           float64 // radius of the circle of knuckle centres, m
	seam           float64 // height at which the knuckle meets the crown, m
	half           float64 // angle of the crown from its pole to the seam, rad
}

// on returns the head's profile on a drum of the given diameter.
// Dished: tangent circles in the meridian plane give depth = crown −
// √((crown − knuckle)² − (a − knuckle)²) (plane geometry).
func (h Head) on(diameter float64) headProfile {
	p := headProfile{kind: h.Kind, a: diameter / 2}
	switch h.Kind {
	case Elliptical:
		p.depth = orDefault(h.Depth, diameter/4)
	case Dished:
		p.crown, p.knuckle = orDefault(h.Crown, diameter), orDefault(h.Knuckle, 0.06*diameter)
		p.ring = p.a - p.knuckle
		reach := p.crown - p.knuckle
		p.depth = p.crown - math.Sqrt(reach*reach-p.ring*p.ring)
		p.half = math.Asin(math.Min(1, p.ring/reach))
		p.seam = p.knuckle * math.Cos(p.half)
	}
	return p
}

func orDefault(value, usual float64) float64 {
	if value == 0 {
		return usual
	}
	return value
}

func (h Head) validate(diameter float64) error {
	switch h.Kind {
	case Flat:
		return nil
	case Elliptical:
		return needNotNegative("head depth", h.Depth)
	case Dished:
	default:
		return fmt.Errorf("head kind %d is not known: use flat, elliptical or dished", h.Kind)
	}
	if err := firstError(needNotNegative("head crown radius", h.Crown), needNotNegative("head knuckle radius", h.Knuckle)); err != nil {
		return err
	}
	p := h.on(diameter)
	if p.crown < p.a {
		return fmt.Errorf("head crown radius is %s: it must be at least half the diameter, %s", mm(p.crown), mm(p.a))
	}
	if p.knuckle > p.a {
		return fmt.Errorf("head knuckle radius is %s: it may be at most half the diameter, %s", mm(p.knuckle), mm(p.a))
	}
	return nil
}

// radius returns the wall's distance from the axis at height d over the straight part,
// for d from 0 to depth, m.
func (p headProfile) radius(d float64) float64 {
	switch {
	case d > p.depth || p.kind == Flat:
		return 0
	case p.kind == Elliptical:
		return p.a * math.Sqrt(math.Max(0, 1-d*d/(p.depth*p.depth)))
	case d <= p.seam:
		return p.ring + math.Sqrt(math.Max(0, p.knuckle*p.knuckle-d*d))
	default:
		z := d - p.depth + p.crown
		return math.Sqrt(math.Max(0, p.crown*p.crown-z*z))
	}
}

// volume returns what one head holds, m³.
func (p headProfile) volume() float64 {
	switch p.kind {
	case Elliptical:
		// Half an ellipsoid; 2:1 gives πD³/24.
		return 2.0 / 3 * math.Pi * p.a * p.a * p.depth
	case Dished:
		// Spherical cap of the crown, and the knuckle's slices π(ring + √(k² − z²))²
		// integrated from 0 to the seam.
		rise := p.crown * (1 - math.Cos(p.half))
		c, k, z := p.ring, p.knuckle, p.seam
		under := z*math.Sqrt(math.Max(0, k*k-z*z)) + k*k*math.Asin(math.Min(1, z/k))
		return math.Pi*rise*rise*(3*p.crown-rise)/3 + math.Pi*(c*c*z+c*under+k*k*z-z*z*z/3)
	default:
		return 0
	}
}

// meridian returns points of the wall from the rim (left out) to the pole, as height
// over the straight part and radius. A flat head has the pole alone.
func (p headProfile) meridian(edge float64) []profilePoint {
	var out []profilePoint
	add := func(height, radius float64) { out = append(out, profilePoint{height, radius}) }
	switch p.kind {
	case Elliptical:
		n := arcSteps(math.Max(p.a, p.depth), math.Pi/2, edge)
		for i := 1; i < n; i++ {
			s, c := math.Sincos(math.Pi / 2 * float64(i) / float64(n))
			add(p.depth*s, p.a*c)
		}
	case Dished:
		bend := math.Pi/2 - p.half
		for i, n := 1, arcSteps(p.knuckle, bend, edge); i <= n; i++ {
			s, c := math.Sincos(bend * float64(i) / float64(n))
			add(p.knuckle*s, p.ring+p.knuckle*c)
		}
		for i, n := 1, arcSteps(p.crown, p.half, edge); i < n; i++ {
			s, c := math.Sincos(p.half * (1 - float64(i)/float64(n)))
			add(p.depth-p.crown*(1-c), p.crown*s)
		}
	case Flat:
		return nil
	}
	add(p.depth, 0)
	return out
}
