package plan

import (
	"math"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/bath"
	"evenwall/geometry/vessel"
)

// blindArea returns the wetted wall that is ceiling within vessel.NearLevel of level, m².
func (t *Tank) blindArea() float64 {
	steep, sum := math.Cos(vessel.NearLevel), 0.0
	w := &t.Filling.Wetted
	for i, faces := range w.Faces {
		a := w.Mesh.Triangle(i).AreaVector()
		area, up := a.Norm(), a.Dot(t.Up)
		if faces&vessel.Inner != 0 && up > steep*area || faces&vessel.Outer != 0 && -up > steep*area {
			sum += area
		}
	}
	return sum
}

// gas adds to each pocket of a result what gathers in it at the solved current.
func (s *Solved) gas(r *report.Result) {
	t, kelvin := s.Basin.Tank, s.Basin.Job.Bath.Kelvin()
	for i, p := range s.intoPockets() {
		if t.Air.Pockets[i].Cause != vessel.Trapped {
			continue
		}
		g := &report.Gas{CurrentA: p.Hydrogen, OxygenA: p.Oxygen, EnergyKJ: bath.Energy(p.Volume, kelvin).High / 1000}
		if p.Hydrogen+p.Oxygen > 0 {
			hours := p.FullAfter(kelvin) / 3600
			g.FullH = &hours
		}
		r.Tank.AirPockets[i].Gas = g
	}
}

// intoPockets returns the pockets with the current of the wall and of the rods whose gas
// rises into each, straight up and along ceilings.
func (s *Solved) intoPockets() []bath.Pocket {
	t := s.Basin.Tank
	air := &t.Air
	out := make([]bath.Pocket, len(air.Pockets))
	if len(out) == 0 {
		return nil
	}
	for i := range out {
		out[i].Volume = air.Walls[i].Volume
	}
	size := air.raster.Lattice.H
	to := vessel.Rising(air.raster, &vessel.Air{Pockets: air.Pockets, Pocket: air.cells}, vessel.Pour{Level: t.Filling.Surface.Offset, Size: size})
	for i, p := range s.Basin.Recovery().Patches.All {
		if c := vessel.FirstOff(air.raster, p.Centre, p.Normal.Scale(-1), size); c >= 0 && to[c] >= 0 {
			out[to[c]].Hydrogen += s.Density[i] * p.Area
		}
	}
	for i := range s.Anodes {
		s.oxygen(i, to, out)
	}
	return out
}

// oxygen adds the current of one rod, spread evenly over its bare metal under the liquid, to
// the pockets that its gas rises into.
func (s *Solved) oxygen(rod int, to []int32, pockets []bath.Pocket) {
	t, r := s.Basin.Tank, &s.Anodes[rod].Rod
	var under []int32
	for _, bare := range r.Bare {
		for _, piece := range r.Pieces(bare.From, bare.To) {
			n := int(math.Ceil(piece[0].Dist(piece[1]) / t.Air.raster.Lattice.H))
			for k := range n {
				p := t.Turn.Apply(piece[0].Lerp(piece[1], (float64(k)+0.5)/float64(n)))
				if c, ok := t.Air.raster.CellAt(p); ok && p.Z < t.Filling.Surface.Offset {
					under = append(under, to[c])
				}
			}
		}
	}
	for _, pocket := range under {
		if pocket >= 0 {
			pockets[pocket].Oxygen += s.Rods[rod].Current / float64(len(under))
		}
	}
}
