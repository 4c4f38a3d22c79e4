package field

import (
	"math"
	"slices"

	"evenwall/geometry/lattice"
)

// medium is the liquid as a conductor.
type medium struct {
	kappa  float64                 // S/m
	layers func(z float64) float64 // over kappa; nil: 1
}

// at returns the conductivity at a height over kappa.
func (m medium) at(z float64) float64 {
	if m.layers == nil {
		return 1
	}
	return m.layers(z)
}

// inLayers returns the liquid with its links weighted by the conductivity where they are,
// those along the plumb line by that of both halves in series. The caller's liquid is not
// changed.
func (m medium) inLayers(from *lattice.Liquid) *lattice.Liquid {
	if m.layers == nil {
		return from
	}
	q := *from
	for axis := range q.Open {
		q.Open[axis] = slices.Clone(q.Open[axis])
	}
	for n := range q.Keys {
		z := q.Point(int32(n)).Z
		here, above := m.at(z), m.at(z+q.Lattice.H)
		q.Open[0][n] *= float32(here)
		q.Open[1][n] *= float32(here)
		q.Open[2][n] *= float32(2 * here * above / (here + above))
	}
	return &q
}

// weigh makes the rods' own field that of a liquid in layers: the potential of a band by the
// conductivity at its height. Conductivity changes little over a rod's thickness, and what
// the other layers make of the field the lattice's links say.
func (b *body) weigh(m medium) {
	if m.layers == nil {
		return
	}
	b.thin = make([]float64, b.columns())
	heights := make([]float64, len(b.stretches))
	for i := range b.metal {
		k := &b.bands[i]
		middle, _ := k.middle()
		z := k.at.AddScaled(k.axis, middle).Z
		b.thin[i] = 1 / m.at(z)
		heights[b.home[i].stretch] += b.home[i].share * z
	}
	for i, z := range heights {
		for a := range 2 {
			b.thin[b.dipole(i, a)] = 1 / m.at(z)
		}
	}
	for i := range b.thin {
		for k := i; k < len(b.thin); k++ {
			b.self.SetSym(i, k, b.self.At(i, k)*math.Sqrt(b.thin[i]*b.thin[k]))
		}
	}
}

// thinned makes the columns' potentials in layered liquid of those in uniform one.
func (b *body) thinned(out []float64) {
	for i, by := range b.thin {
		out[i] *= by
	}
}
