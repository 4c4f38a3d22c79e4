package field

import (
	"math"

	"evenwall/geometry"
)

// Distances from a patch to bare metal, in spacings: the current density of a patch nearer
// than the narrow one is recovered from what the rods' own field leaves, of one beyond the
// wide one from the whole potential, and of one between from both. Near metal the potential
// bends more than a quadratic can follow; far off the rods' own field is a large part that
// the rest of the tank takes back, and taking it off would lose a shaded patch to
// cancellation.
const (
	narrowGap = 6.0
	wideGap   = 8.0
)

// sharpen improves the current densities j of the patches close to bare metal.
func (s *solver) sharpen(j, phi []float64, r *Recovery) {
	share := s.nearMetal(r.Patches)
	if len(share) == 0 {
		return
	}
	in := s.bath()
	straight := s.straightened(phi, r, share, s.mirrored(share, j, r.Patches))
	for _, p := range share {
		j[p.patch] += p.share * (r.density(int(p.patch), straight, in) - j[p.patch])
	}
}

// mirrored returns how much of its own image in the wall answers a band near the patches: 1
// in bare metal, -1 in an insulator, and with a film between, by what its resistance is to
// that of the liquid over the least gap.
func (s *solver) mirrored(near []metalPatch, j []float64, all *Patches) float64 {
	gap, most := math.Inf(1), 0.0
	for _, p := range near {
		gap = math.Min(gap, s.body.toMetal(all.All[p.patch].Centre))
		most = math.Max(most, j[p.patch])
	}
	if most == 0 {
		return 0
	}
	drop, _ := s.wallLaw().Drop(most)
	film := s.Conductivity * drop / most
	return (gap - film) / (gap + film)
}

// metalPatch is a patch close to metal, with the share that its straightened potential has.
type metalPatch struct {
	patch int32
	share float64
}

// nearMetal lists the patches close to bare metal.
func (s *solver) nearMetal(all *Patches) []metalPatch {
	box := geometry.EmptyBox()
	reach := wideGap * s.Liquid.Lattice.H
	for b := range s.body.bands[:s.body.metal] {
		k := &s.body.bands[b]
		for _, z := range [2]float64{k.s0, k.s1} {
			box = box.Include(k.at.AddScaled(k.axis, z))
		}
		reach = math.Max(reach, wideGap*s.Liquid.Lattice.H+math.Max(k.r0, k.r1))
	}
	box = box.Grow(reach)
	var out []metalPatch
	for i := range all.All {
		if at := all.All[i].Centre; s.body.metal > 0 && box.Contains(at) {
			share := (wideGap - s.body.toMetal(at)/s.Liquid.Lattice.H) / (wideGap - narrowGap)
			if share > 0 {
				out = append(out, metalPatch{int32(i), math.Min(1, share)})
			}
		}
	}
	return out
}

// toMetal returns the distance from p to the nearest metal band, m.
func (b *body) toMetal(p geometry.Vec) float64 {
	least := math.Inf(1)
	for i := range b.bands[:b.metal] {
		k := &b.bands[i]
		d := p.Sub(k.at)
		z := math.Min(math.Max(d.Dot(k.axis), k.s0), k.s1)
		least = math.Min(least, d.AddScaled(k.axis, -z).Norm()-math.Max(k.r0, k.r1))
	}
	return least
}

// straightened returns the potential with the rods' own part, and the share of it that is
// mirrored in the wall, replaced at the cells that the patches read by its value and slope at
// the cell's nearest point of the wall: it then rises from the wall as the fit supposes.
func (s *solver) straightened(phi []float64, r *Recovery, patches []metalPatch, mirrored float64) []float64 {
	out := make([]float64, len(phi))
	listed := make([]bool, len(phi))
	var cells []int32
	for _, p := range patches {
		for _, k := range r.of(int(p.patch)) {
			if !listed[k.cell] {
				listed[k.cell] = true
				cells = append(cells, k.cell)
			}
		}
	}
	own := s.body.own(s.q)
	spread(len(cells), func(i int) {
		cell := cells[i]
		out[cell] = phi[cell]
		near := r.near.at[cell]
		if near.face < 0 || near.aside {
			return
		}
		at := s.Liquid.Point(cell)
		foot, face, d := r.tree.ClosestWithin(at, 2*float64(near.dist)+1e-6)
		if face < 0 {
			return
		}
		out[cell] -= own.curved(at, foot, d, mirrored) / s.Conductivity
	})
	return out
}

// curved returns by how much kappa times the rods' own potential at a point at distance d, m,
// from its nearest point of the wall, with a share of its mirror image there, differs from its
// value and slope at that point, A/m.
func (o own) curved(at, foot geometry.Vec, d, mirrored float64) float64 {
	value, slope := o.line(foot, at.Sub(foot).Unit())
	both := o.potential(at) - mirrored*o.potential(foot.AddScaled(foot.Sub(at), 1))
	return both - (1-mirrored)*value - (1+mirrored)*d*slope
}
