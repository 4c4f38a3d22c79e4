package table

import (
	"context"
	"math"

	"evenwall/field"
	"evenwall/field/electrode"
	"evenwall/geometry"
)

// zones is a wall whose law is not a plain resistance. The table takes the law's slope at a
// usual current density for a resistance; what the law takes besides, V, is the zones'
// unknowns, each at its zone's middle and smoothly between.
type zones struct {
	law    *quick
	centre []geometry.Vec
	normal []geometry.Vec // into the steel
	apart  float64        // between centres, m
	slope  []float64      // ohm m²
	slopes []float64      // by patch, ohm m²
	usual  []float32      // V that the law takes besides its slope where that was taken
	area   []float64      // m², as shared out
	shares [][]share      // by patch

	felt  []float32 // by node and zone: mean current density of unit current, 1/m²
	volts []float32 // by node and zone: V per V of the zone
	mean  []float32 // by zone and zone: mean current density in the second per V of the first
}

// share is a zone's part in what happens at a place.
type share struct {
	zone  int32
	value float64
}

// Sizes of zones, in steps of the nodes.
const (
	zoneApart = 2.2 // between centres, at least
	zoneReach = 1.6 // of zoneApart: how far a zone's part goes
)

// sameSide is the least cosine between normals for two places to be of one zone: the faces
// of a sheet are apart.
const sameSide = -0.3

// newZones spreads centres over the patches: every patch that no centre is near becomes one.
func newZones(law electrode.Law, patches []field.Patch, step float64) *zones {
	z := &zones{law: newQuick(law), apart: zoneApart * step}
	for i := range patches {
		p, near := &patches[i], false
		for k, c := range z.centre {
			near = near || p.Centre.Dist(c) < z.apart && p.Normal.Dot(z.normal[k]) > sameSide
		}
		if !near {
			z.centre, z.normal = append(z.centre, p.Centre), append(z.normal, p.Normal)
		}
	}
	z.area = make([]float64, len(z.centre))
	for i := range patches {
		s := z.at(patches[i].Centre, patches[i].Normal)
		z.shares = append(z.shares, s)
		for _, k := range s {
			z.area[k.zone] += k.value * patches[i].Area
		}
	}
	return z
}

// at returns the zones' parts at a place of the wall; they add up to 1.
func (z *zones) at(p, normal geometry.Vec) (parts []share) {
	sum, nearest, best := 0.0, -1, math.Inf(1)
	for k, c := range z.centre {
		d := p.Dist(c)
		if normal.Dot(z.normal[k]) <= sameSide {
			continue
		}
		if d < best {
			nearest, best = k, d
		}
		if u := d / (zoneReach * z.apart); u < 1 {
			parts = append(parts, share{int32(k), (1 - u*u) * (1 - u*u)})
			sum += parts[len(parts)-1].value
		}
	}
	if sum == 0 {
		return []share{{int32(max(nearest, 0)), 1}}
	}
	for i := range parts {
		parts[i].value /= sum
	}
	return parts
}

// means adds up a figure of the patches by zone and returns the means.
func (z *zones) means(of func(patch int) float64, patches []field.Patch) []float64 {
	out := make([]float64, len(z.centre))
	for i := range z.shares {
		v := of(i) * patches[i].Area
		for _, k := range z.shares[i] {
			out[k.zone] += k.value * v
		}
	}
	for k := range out {
		out[k] /= z.area[k]
	}
	return out
}

// spread returns a figure of the zones at the patches and at a lattice's wall links.
func (z *zones) spread(of []float64, f *field.Filled) field.ByWall {
	return field.ByWall{Links: spread(z.ends(f), of), Patches: spread(z.shares, of)}
}

// ends returns the zones' parts where the wall links of a lattice end.
func (z *zones) ends(f *field.Filled) [][]share {
	out := make([][]share, len(f.Liquid.Walls))
	each(len(out), func() func(int) {
		return func(i int) { out[i] = z.at(f.WallEnd(i)) }
	})
	return out
}

func spread(shares [][]share, of []float64) []float64 {
	out := make([]float64, len(shares))
	for i := range shares {
		for _, k := range shares[i] {
			out[i] += k.value * of[k.zone]
		}
	}
	return out
}

// linearise sets the zones' slopes to the law's where reference placements have the wall on
// the average.
func (z *zones) linearise(ctx context.Context, t *Table, r *field.Recovery) error {
	rods := t.references()
	mean := make([]float64, len(z.centre))
	for _, rod := range rods {
		j, err := t.reference(ctx, r, rod)
		if err != nil {
			return err
		}
		for k, v := range z.means(func(i int) float64 { return j[i] }, t.patches) {
			mean[k] += v / float64(len(rods))
		}
	}
	z.slope, z.usual = make([]float64, len(mean)), make([]float32, len(mean))
	for k, j := range mean {
		drop, slope := z.law.Drop(j)
		z.slope[k], z.usual[k] = slope, float32(drop-slope*j)
	}
	z.slopes = spread(z.shares, z.slope)
	return nil
}

// solve finds what a volt of each zone does, and returns by zone and patch the current
// density per V. rows are the nodes'.
func (z *zones) solve(ctx context.Context, t *Table, green *field.Green, rows [][]float32) ([][]float32, error) {
	n, cells := len(z.centre), t.cells()
	z.volts, z.mean = make([]float32, len(cells)*n), make([]float32, n*n)
	biased, ends := make([][]float32, n), z.ends(t.filled)
	err := side(n, green, func(s *field.PointSolver, from, to int, out []field.PointAnswer) error {
		var volts []field.ByWall
		for k := from; k < to; k++ {
			one := make([]float64, n)
			one[k] = 1
			volts = append(volts, field.ByWall{Links: spread(ends, one), Patches: spread(z.shares, one)})
		}
		if err := s.Biased(ctx, volts, cells, out); err != nil {
			return err
		}
		for k := from; k < to; k++ {
			o := &out[k-from]
			biased[k] = append([]float32(nil), o.Wall...)
			for i, v := range o.Regular {
				z.volts[i*n+k] = v
			}
			for i, v := range z.means(func(i int) float64 { return float64(o.Wall[i]) }, t.patches) {
				z.mean[k*n+i] = float32(v)
			}
		}
		return nil
	})
	z.felt = make([]float32, len(cells)*n)
	each(len(cells), func() func(int) {
		return func(i int) {
			for k, v := range z.means(func(p int) float64 { return float64(rows[i][p]) }, t.patches) {
				z.felt[i*n+k] = float32(v)
			}
		}
	})
	return biased, err
}
