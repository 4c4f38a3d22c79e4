package field

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// Probe reads a field at any point of the liquid.
type Probe struct {
	liquid *lattice.Liquid
	phi    []float64
}

// Probe returns a reader of the potential.
func (s *Solution) Probe() *Probe { return &Probe{s.solver.Liquid, s.Potential()} }

// At returns the potential at p of the lattice's frame, V: linear between the cells round
// it that hold liquid. It is false where the cell that p lies in holds none.
func (r *Probe) At(p geometry.Vec) (float64, bool) {
	l := &r.liquid.Lattice
	key, ok := l.Nearest(p)
	if !ok || r.liquid.Find(key) < 0 {
		return 0, false
	}
	u := l.At(p)
	i, j, k := int(math.Floor(u.X)), int(math.Floor(u.Y)), int(math.Floor(u.Z))
	sum, weight := 0.0, 0.0
	for corner := range 8 {
		x, y, z := i+corner&1, j+corner>>1&1, k+corner>>2
		if x < 0 || y < 0 || z < 0 || x >= l.N[0] || y >= l.N[1] || z >= l.N[2] {
			continue
		}
		n := r.liquid.Find(l.Index(x, y, z))
		if n < 0 {
			continue
		}
		w := (1 - math.Abs(u.X-float64(x))) * (1 - math.Abs(u.Y-float64(y))) * (1 - math.Abs(u.Z-float64(z)))
		sum, weight = sum+w*r.phi[n], weight+w
	}
	if weight < 1e-9 {
		return r.phi[r.liquid.Find(key)], true
	}
	return sum / weight, true
}
