package electrode

import "math"

// VoidCeiling is the most gas that liquid near an electrode holds, as a share of volume:
// the packing of bubbles (van der Does, Valle and Haverkort 2025).
const VoidCeiling = 0.65

// Bruggeman returns the factor by which bubbles of all sizes, void of the volume, lower
// the conductivity: (1 − void)^1.5 (Bruggeman 1935). A void outside 0 to 1 counts as the
// nearest of these.
func Bruggeman(void float64) float64 {
	left := 1 - math.Min(math.Max(void, 0), 1)
	return left * math.Sqrt(left)
}

// Maxwell returns the same factor for few bubbles of equal size: (1 − void)/(1 + void/2)
// (Maxwell 1873, from memory).
func Maxwell(void float64) float64 { return (1 - void) / (1 + void/2) }

// Curtain is the sheath of rising gas around an upright rod.
type Curtain struct {
	Radius    float64 // of the rod's metal, m
	Thickness float64 // of the sheath, m
	Rise      float64 // speed of the bubbles against the liquid, m/s
}

// UsualCurtain returns a 5 mm sheath in which bubbles rise at 20 mm/s: from memory, chosen
// so that rods at working current densities carry 2 to 15 % of gas at their upper end.
func UsualCurtain(radius float64) Curtain {
	return Curtain{Radius: radius, Thickness: 0.005, Rise: 0.02}
}

// Void returns the share of the sheath that is gas at a height where flow, m³/s, has been
// made below it. The gas fills flux / (flux + rise), flux being flow over the sheath's
// cross-section (Zuber and Findlay 1965, with an even profile and liquid at rest, from
// memory), and never more than VoidCeiling.
func (c Curtain) Void(flow float64) float64 {
	outer := c.Radius + c.Thickness
	flux := flow / (math.Pi * (outer*outer - c.Radius*c.Radius))
	return math.Min(flux/(flux+c.Rise), VoidCeiling)
}

// Factor returns what is left of the conductivity where the gas of Void rises.
func (c Curtain) Factor(flow float64) float64 { return Bruggeman(c.Void(flow)) }

// Swarm is bubbles that rise in all of a bath.
type Swarm struct {
	Flow float64 // of gas through the surface, m³/s
	Area float64 // of the surface, m²
	Rise float64 // speed of the bubbles against the liquid, m/s
}

// UsualSwarm returns a swarm of bubbles of 50 micrometres, as hydrogen comes off steel in
// alkali (size from memory), which rise at 1.4 mm/s by Stokes' law (g d²/(18 nu), nu of
// water 1.0e-6 m²/s; from memory): the finest, which stay in the longest.
func UsualSwarm(flow, area float64) Swarm { return Swarm{Flow: flow, Area: area, Rise: 1.4e-3} }

// Void returns the share of the liquid that is gas at a share of the way from the floor, 0,
// to the surface, 1, when the bath makes gas evenly over its height: by the law of Curtain.
func (s Swarm) Void(way float64) float64 {
	if s.Area <= 0 {
		return 0
	}
	flux := s.Flow / s.Area * math.Min(math.Max(way, 0), 1)
	return math.Min(flux/(flux+s.Rise), VoidCeiling)
}

// Factor returns what is left of the conductivity there.
func (s Swarm) Factor(way float64) float64 { return Bruggeman(s.Void(way)) }
