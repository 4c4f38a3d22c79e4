package field

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/field/electrode"
	"evenwall/geometry"
)

// longRod returns a rod along z through both ends of a rig of the given length, at x.
func longRod(x, length float64) geometry.Rod {
	return geometry.Rod{Radius: rodRadius, Flat: true, Bare: []geometry.Span{{From: 0, To: length + 2*beyond}},
		Path: geometry.Straight(geometry.V(x, 0, -length/2-beyond), geometry.V(x, 0, length/2+beyond))}
}

// endMirrors are the planes of the ends, out of the liquid.
func endMirrors(length float64) []geometry.Plane {
	return []geometry.Plane{{Normal: geometry.V(0, 0, 1), Offset: length / 2}, {Normal: geometry.V(0, 0, -1), Offset: length / 2}}
}

// ended returns a rig of a rod in a prism of the cells' length, the potential held on the
// ends and on every side that is no steel. Round the rod the ends are insulated, as a field
// without current along the rod bears.
func ended(mesh geometry.Mesh, steel func(int) bool, x float64, potential func(geometry.Vec) float64) *rig {
	return &rig{mesh: mesh, steel: steel, turn: oddTurn(), h: 0.004, mirrors: endMirrors(cellLength), rods: []geometry.Rod{longRod(x, cellLength)},
		insulated: func(p geometry.Vec) bool {
			return math.Abs(p.Z) > cellLength/2-1e-3 && math.Hypot(p.X-x, p.Y) < 2*rodRadius
		},
		held: func(p geometry.Vec) (float64, bool) { return math.Min(1, potential(p)), true }}
}

// rig returns the cell as a rig, with the exact potential on its ends.
func (c cell) rig(potential func(geometry.Vec) float64) *rig {
	mesh, side := tubeMesh(shellRadius, cellLength, 720)
	r := ended(mesh, func(f int) bool { return f < side }, c.offset, potential)
	r.law, r.h = electrode.Film{Resistance: c.film}, c.h
	return r
}

// middle returns the rod's current per metre over the middle third of a cell.
func (r *rigged) middle() float64 {
	return r.perMetre(beyond+cellLength/3, beyond+2*cellLength/3)
}

// inMiddle limits readings to the middle third of a cell.
func inMiddle(want func(p *reading) float64) func(p *reading) (float64, bool) {
	return func(p *reading) (float64, bool) { return want(p), math.Abs(p.Centre.Z) < cellLength/6 }
}

// The series against the image solution as the film goes to nothing, and against its own
// law on the shell.
func TestBipolarSeries(t *testing.T) {
	c := cell{offset: 0.05, film: 1e-9}
	s := newBipolar(c)
	bare := cell{offset: 0.05}
	assert.InEpsilon(t, bare.perVolt(), s.perVolt(), 1e-6)
	p := geometry.V(0.03, 0.02, 0)
	assert.InEpsilon(t, bare.potential(p), s.potential(p), 1e-6)
	c.film = 0.02
	s = newBipolar(c)
	for _, theta := range []float64{0, 0.4, 1.7, 3} {
		sin, cos := math.Sincos(theta)
		at := func(r float64) float64 { return s.potential(geometry.V(r*cos, r*sin, 0)) }
		const d = 1e-6
		j := -cellKappa * (3*at(shellRadius) - 4*at(shellRadius-d) + at(shellRadius-2*d)) / (2 * d)
		assert.InEpsilon(t, j, at(shellRadius)/c.film, 1e-4)
	}
}

// shellRow: a rod in a shell at film 0, or on its axis with a film, with what is asked of
// the wall current's L2 and of its worst patch.
func shellRow(t *testing.T, what string, c cell, asked misfit) exactRow {
	c.h = 0.004
	s := c.rig(c.potential).solve(t)
	all, _ := s.read()
	m := compare(all, inMiddle(func(p *reading) float64 { return c.wallCurrent(math.Atan2(p.Centre.Y, p.Centre.X)) }))
	r := exactRow{what: what + ", 4 mm", against: "exact (images; Incropera and DeWitt, table 4.1)"}
	r.measured(t, "R", percent(s.middle(), c.perVolt()), 0.1)
	r.measured(t, "wall current L2", m.l2, asked.l2)
	r.measured(t, "its worst", m.most, asked.most)
	assert.InDelta(t, 1, s.Balance, 1e-3, "current in = current out")
	return r
}

// offAxisRow: the same with the rod off the axis, film 0.
func offAxisRow(t *testing.T, offset float64) exactRow {
	return shellRow(t, fmt.Sprintf("rod %.0f mm off the axis", 1000*offset), cell{offset: offset}, misfit{0.6, 1.5})
}

// sectionRow: the level section of such a cell in two dimensions.
func sectionRow(t *testing.T) exactRow {
	c := cell{h: 0.004, offset: 0.050}
	s, _ := sliced(t, c)
	r := exactRow{what: "level section of the same, in two dimensions, 4 mm", against: "exact (images)"}
	r.measured(t, "R", percent(s.Current/c.h, c.perVolt()), 0.1)
	return r
}

// eccentricRow: a rod off the axis of a shell with a film.
func eccentricRow(t *testing.T, offset float64) exactRow {
	c := cell{offset: offset, film: 0.02, h: 0.004}
	exact := newBipolar(c)
	s := c.rig(exact.potential).solve(t)
	all, _ := s.read()
	m := compare(all, inMiddle(func(p *reading) float64 {
		sin, cos := math.Sincos(math.Atan2(p.Centre.Y, p.Centre.X))
		return exact.potential(geometry.V(shellRadius*cos, shellRadius*sin, 0)) / c.film
	}))
	r := exactRow{what: fmt.Sprintf("rod %.0f mm off the axis, film 0.02 ohm m2, 4 mm", 1000*offset), against: "exact (series in bipolar coordinates)"}
	r.measured(t, "R", percent(s.middle(), exact.perVolt()), 0.2)
	r.measured(t, "wall current L2", m.l2, 1)
	r.measured(t, "its worst", m.most, 2)
	return r
}

// insulatedRow: the concentric cell with plain insulating ends that lie askew to the lattice.
func insulatedRow(t *testing.T) exactRow {
	worst := 0.0
	for _, film := range []float64{0, 0.02} {
		c := cell{h: 0.004, film: film}
		r := c.rig(nil)
		r.held = nil
		r.insulated = func(p geometry.Vec) bool { return math.Abs(p.Z) > cellLength/2-1e-4 }
		s := r.solve(t)
		worst = math.Max(worst, math.Abs(percent(s.Current/cellLength, c.perVolt())))
	}
	r := exactRow{what: "rod in a cylinder, insulated ends askew to the lattice, film 0 and 0.02 ohm m2, 4 mm", against: "exact"}
	r.measured(t, "R", worst, 0.5)
	return r
}

// gapRow: a rod close to the shell, film 0, at the default spacing.
func gapRow(t *testing.T, gap float64) exactRow {
	c := cell{offset: shellRadius - rodRadius - gap, h: DefaultSpacing(0)}
	s := c.rig(c.potential).solve(t)
	all, _ := s.read()
	most := 0.0
	for i := range all {
		if math.Abs(all[i].Centre.Z) < cellLength/6 {
			most = math.Max(most, all[i].j)
		}
	}
	r := exactRow{what: fmt.Sprintf("rod %.0f mm from the wall", 1000*gap), against: "exact (images)"}
	peak := percent(most, c.wallCurrent(0))
	switch {
	case gap >= 0.005:
		r.measured(t, "R", percent(s.middle(), c.perVolt()), 0.5)
		r.measured(t, "greatest wall current", peak, 3)
	default: // under one spacing: nothing is asked, so that it does not grow
		r.measured(t, "R", percent(s.middle(), c.perVolt()), 1.5)
		r.measured(t, "greatest wall current", peak, 10)
	}
	return r
}
