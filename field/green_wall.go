package field

import (
	"context"

	"evenwall/field/electrode"
	"evenwall/geometry"
)

// ByWall holds figures of the wall at the places where it is asked for them.
type ByWall struct {
	Links   []float64 // of each wall link of the liquid
	Patches []float64 // of each patch of a recovery
}

// NewByWall returns zeros for a tank and a recovery of it.
func NewByWall(f *Filled, r *Recovery) ByWall {
	return ByWall{make([]float64, len(f.Liquid.Walls)), make([]float64, len(r.Patches.All))}
}

// IsLinear reports whether a law is a plain resistance, and its slope, ohm m².
func IsLinear(law electrode.Law) (slope float64, ok bool) {
	_, slope = orPrimary(law).Drop(0)
	return slope, linear(orPrimary(law))
}

// Biased finds what the wall does when no rod gives off current and it takes volts besides
// those by its slope, some here and others there, given in a lane each, at most SideBySide.
// Regular is in volts and Wall in A/m² here.
func (s *PointSolver) Biased(ctx context.Context, volts []ByWall, at []int32, out []PointAnswer) error {
	clear(s.b)
	for i := range s.contacts {
		k := &s.contacts[i]
		g := k.conductance(s.problem.Conductivity)
		for l := range volts {
			s.b[k.link.Cell+1][l] += float32(g * volts[l].Links[i])
		}
	}
	if err := s.settle(ctx); err != nil {
		return err
	}
	for l := range volts {
		o := &out[l]
		o.Regular, o.Wall = o.Regular[:0], o.Wall[:0]
		for _, cell := range at {
			o.Regular = append(o.Regular, s.x[cell+1][l])
		}
		for i, v := range volts[l].Patches {
			j := float32(0)
			for k, sample := range s.recovery.of(i) {
				j += s.weights[i][k] * (s.x[sample.cell+1][l] - float32(v))
			}
			o.Wall = append(o.Wall, j)
		}
	}
	return nil
}

// WallEnd returns where wall link i ends, and the wall's unit normal there, into the steel.
func (f *Filled) WallEnd(i int) (at, normal geometry.Vec) {
	k := &f.Liquid.Walls[i]
	way := k.Direction()
	normal = way
	if k.Face >= 0 {
		if normal = f.Normal(k.Face); normal.Dot(way) < 0 {
			normal = normal.Scale(-1)
		}
	}
	return f.Liquid.Point(k.Cell).AddScaled(way, k.Theta*f.Liquid.Lattice.H), normal
}
