package field

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/field/electrode"
	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// rig is a closed mesh with electrodes whose answer is known. Points and planes are in its
// own frame, from which turn leads to the lattice's.
type rig struct {
	mesh  geometry.Mesh
	steel func(face int) bool // which facets are the wall; nil: all
	turn  geometry.Rotation
	h     float64    // spacing, m
	shift [2]float64 // of the lattice, spacings

	surface *float64 // z of the liquid, own frame, turned about z at most; nil: full
	level   float64  // in the lattice's frame, set by solve

	insulated func(p geometry.Vec) bool            // no current passes at p; nil: nowhere
	held      func(p geometry.Vec) (float64, bool) // the potential held at p on facets that are no steel; nil: none
	mirrors   []geometry.Plane                     // insulating planes that rods pass through; nil: the surface
	rods      []geometry.Rod
	law       electrode.Law
	kappa     float64 // S/m; 0: cellKappa
	layers    func(z float64) float64
}

// rigged is a rig's solution at 1 V.
type rigged struct {
	*Solution
	*rig
	turned geometry.Mesh
}

// wall reports whether a facet is steel.
func (r *rig) wall(face int) bool { return r.steel == nil || r.steel(face) }

// fill lays the rig on its lattice.
func (r *rig) fill(t testing.TB) (*lattice.Liquid, geometry.Mesh) {
	turned := r.mesh.Transformed(r.turn.Apply)
	box := turned.Bounds()
	r.level = box.Max.Z + 0.01
	if r.surface != nil {
		r.level = *r.surface
	}
	l, err := lattice.New(lattice.Placement{Bounds: box, Level: r.level, H: r.h, Shift: r.shift})
	require.NoError(t, err)
	f := lattice.Filling{Surface: lattice.Enclose(l, &turned), Shell: &turned, Level: r.level}
	if r.insulated != nil {
		back := r.turn.Inverse()
		f.Opening = func(at geometry.Vec) bool { return r.insulated(back.Apply(at)) }
	}
	return lattice.Fill(f), turned
}

// solve runs the rig at 1 V on its rods.
func (r *rig) solve(t testing.TB) *rigged {
	q, turned := r.fill(t)
	p := &Problem{Liquid: q, Level: r.level, Conductivity: r.conductivity(), Layers: r.layers, Wall: r.law, Supply: Supply{Voltage: 1},
		Normal: func(f int32) geometry.Vec { return turned.Triangle(int(f)).Normal() }}
	if r.surface == nil {
		p.Level = 100 // far above all
	}
	for _, m := range r.mirrors {
		p.Mirrors = append(p.Mirrors, geometry.PlaneThrough(r.turn.Apply(m.Normal.Scale(m.Offset)), r.turn.Apply(m.Normal)))
	}
	for _, rod := range r.rods {
		path := make([]geometry.Vec, len(rod.Path))
		for i := range path {
			path[i] = r.turn.Apply(rod.Path[i])
		}
		rod.Path = path
		p.Anodes = append(p.Anodes, Anode{Rod: rod})
	}
	if r.held != nil {
		back := r.turn.Inverse()
		p.Held = func(k *lattice.Link) (float64, bool) {
			if k.Face >= 0 && r.wall(int(k.Face)) {
				return 0, false
			}
			return r.held(back.Apply(q.Point(k.Cell).AddScaled(k.Direction(), k.Theta*r.h)))
		}
	}
	s, err := Solve(context.Background(), p, Settings{})
	require.NoError(t, err)
	return &rigged{s, r, turned}
}

func (r *rig) conductivity() float64 {
	if r.kappa == 0 {
		return cellKappa
	}
	return r.kappa
}

// intoSteel returns the current into the wall, A, without what goes to held electrodes.
func (r *rigged) intoSteel() float64 {
	return r.solver.intoWall(func(c *contact) bool { return c.held == nil })
}

// perMetre returns a rod's current per metre between two places along it, m from its tip.
func (r *rigged) perMetre(from, to float64) float64 {
	sum, length := 0.0, 0.0
	for b, q := range r.solver.q[:r.solver.body.metal] {
		k := &r.solver.body.bands[b]
		if z, _ := k.middle(); z > from && z < to {
			sum += q
			length += k.s1 - k.s0
		}
	}
	return sum / length
}

// reading is a patch of wall in the rig's own frame with its current density before
// scaling, A/m².
type reading struct {
	Patch
	j float64
}

// read returns the wall's patches, and the closure: their current over the field's.
func (r *rigged) read() (all []reading, closure float64) {
	steel := Steel{Mesh: geometry.Mesh{Vertices: r.turned.Vertices}}
	for i, f := range r.turned.Faces {
		if r.wall(i) {
			steel.Mesh.Faces = append(steel.Mesh.Faces, f)
			steel.Inner, steel.Outer = append(steel.Inner, true), append(steel.Outer, false)
		}
	}
	rec := NewRecovery(r.solver.Liquid, &steel, geometry.NewTree(&steel.Mesh))
	j, closure := r.WallCurrent(rec)
	back := r.turn.Inverse()
	for i, p := range rec.Patches.All {
		p.Centre, p.Normal = back.Apply(p.Centre), back.Apply(p.Normal)
		all = append(all, reading{p, j[i] * closure})
	}
	return all, closure
}

// misfit is how far readings are from an exact current density, in percent: of its L2 norm,
// and at the worst patch of the local value.
type misfit struct{ l2, most float64 }

// compare holds the readings to want, where want says that it holds.
func compare(all []reading, want func(p *reading) (j float64, ok bool)) misfit {
	sum, norm, most := 0.0, 0.0, 0.0
	for i := range all {
		j, ok := want(&all[i])
		if !ok {
			continue
		}
		d := all[i].j - j
		sum, norm = sum+d*d*all[i].Area, norm+j*j*all[i].Area
		most = math.Max(most, math.Abs(d/j))
	}
	return misfit{100 * math.Sqrt(sum/norm), 100 * most}
}

// percent returns by how much got is off want.
func percent(got, want float64) float64 { return 100 * (got/want - 1) }
