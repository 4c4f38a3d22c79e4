package field

import (
	"cmp"
	"math"
	"slices"
)

// oxygen is the volume of oxygen that a rod gives off per charge at 25 degC and 101,325 Pa,
// m³/C: R T / (4 F p), all current making gas (Faraday; CODATA values).
const oxygen = 8.314462618 * 298.15 / (4 * 96485.33212 * 101325)

// curtains sets what the gas round each band costs, from the currents of the round before:
// the gas made below a band rises past it and leaves the liquid there the less conductive,
// over the curtain's thickness.
func (s *solver) curtains() {
	for i := range s.Anodes {
		c := s.Anodes[i].Gas
		if c == nil {
			continue
		}
		flow := 0.0
		for _, b := range s.upward(i) {
			half := math.Max(0, s.q[b]) * oxygen / 2
			flow += half
			k := &s.body.bands[b]
			_, r := k.middle()
			factor := c.Factor(flow)
			s.rods[b].gas = r * math.Log1p(c.Thickness/math.Max(r, 1e-4)) / s.Conductivity * (1/factor - 1)
			flow += half
		}
	}
}

// upward returns the metal bands of a rod, the lowest first.
func (s *solver) upward(rod int) []int {
	var on []int
	for b := range s.body.metal {
		if s.body.bands[b].rod == rod {
			on = append(on, b)
		}
	}
	height := func(b int) float64 {
		k := &s.body.bands[b]
		m, _ := k.middle()
		return k.at.AddScaled(k.axis, m).Z
	}
	slices.SortFunc(on, func(a, b int) int { return cmp.Compare(height(a), height(b)) })
	return on
}
