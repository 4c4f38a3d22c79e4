package field

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/electrode"
	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// bowlRod is a floating bowl with a rod, for laws: the rod and the bowl as points that a
// test may mirror or turn.
type bowlRod struct {
	tip, top geometry.Vec
	film     float64
	h        float64
	place    func(geometry.Vec) geometry.Vec // of the whole, keeping z
}

// solve runs the rod in a lying half ball of uneven axes whose surface is z = 0, at 1 V.
func (b bowlRod) solve(t require.TestingT) (*Solution, *Recovery) {
	mesh := bowl(60, 120)
	if b.place == nil {
		b.place = func(p geometry.Vec) geometry.Vec { return p }
	}
	mesh = mesh.Transformed(b.place)
	l, err := lattice.New(lattice.Placement{Bounds: mesh.Bounds(), Level: 0, H: b.h})
	require.NoError(t, err)
	q := lattice.Fill(lattice.Filling{Surface: lattice.Enclose(l, &mesh), Shell: &mesh, Level: 0})
	s, err := Solve(context.Background(), &Problem{Liquid: q, Level: 0, Conductivity: 0.6, Wall: electrode.Film{Resistance: b.film},
		Normal: func(f int32) geometry.Vec { return mesh.Triangle(int(f)).Normal() }, Supply: Supply{Voltage: 1},
		Anodes: []Anode{{Rod: geometry.Rod{Radius: 0.005, Path: geometry.Straight(b.place(b.tip), b.place(b.top)), Bare: []geometry.Span{{From: 0, To: 1}}}}}}, Settings{})
	require.NoError(t, err)
	wet := wetted(&mesh)
	inner := make([]bool, len(wet.Faces))
	for i := range inner {
		inner[i] = true
	}
	return s, NewRecovery(q, &Steel{Mesh: wet, Inner: inner, Outer: make([]bool, len(inner))}, geometry.NewTree(&wet))
}

// wetted returns the facets below z = 0.
func wetted(m *geometry.Mesh) geometry.Mesh {
	out := geometry.Mesh{Vertices: m.Vertices}
	for i, f := range m.Faces {
		if m.Triangle(i).Centroid().Z < 0 {
			out.Faces = append(out.Faces, f)
		}
	}
	return out
}

// bowl returns a saddle tank's like: half an ellipsoid of 160, 110, 120 mm under z = 0 with
// a tunnel lifted into its floor along x, closed by a lid 30 mm above. Its rim is at z = 0.
func bowl(rings, around int) geometry.Mesh {
	var m geometry.Mesh
	point := func(k, i int) geometry.Vec {
		up, out := math.Sincos(math.Pi / 2 * float64(k) / float64(rings))
		up, out = -out, up // from the lowest point to the rim
		y, x := math.Sincos(2 * math.Pi * float64(i) / float64(around))
		p := geometry.V(0.160*out*x, 0.110*out*y, 0.120*up)
		p.Z *= 1 - 0.4*math.Exp(-p.Y*p.Y/(0.045*0.045))
		return p
	}
	m.Vertices = append(m.Vertices, point(0, 0))
	for k := 1; k <= rings; k++ {
		for i := range around {
			m.Vertices = append(m.Vertices, point(k, i))
		}
	}
	for i := range around { // the lid's rim
		v := point(rings, i)
		m.Vertices = append(m.Vertices, geometry.V(v.X, v.Y, 0.030))
	}
	lid := int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, geometry.V(0, 0, 0.030))
	at := func(k, i int) int32 { return int32(1 + (k-1)*around + i%around) }
	for i := range around {
		m.Faces = append(m.Faces, [3]int32{0, at(1, i+1), at(1, i)}, [3]int32{lid, at(rings+1, i), at(rings+1, i+1)})
		for k := 1; k <= rings; k++ {
			m.Faces = append(m.Faces, [3]int32{at(k, i), at(k, i+1), at(k+1, i+1)}, [3]int32{at(k, i), at(k+1, i+1), at(k+1, i)})
		}
	}
	return m
}

var bowlTip, bowlTop = geometry.V(0.060, 0.020, -0.045), geometry.V(0.030, -0.010, 0.040)

// Current in = current out, and the potential lies between the wall's and the rod's.
func TestCurrentInIsCurrentOut(t *testing.T) {
	for _, film := range []float64{0, 0.02, 2} {
		s, _ := bowlRod{tip: bowlTip, top: bowlTop, film: film, h: 5e-3}.solve(t)
		assert.InDelta(t, 1, s.Balance, 2e-4, "film %g", film)
	}
}

// Maximum principle: no potential in the liquid is above the rod's or below the wall's.
// Cells inside the metal are no liquid and are left out. A rod is met at the middles of its
// bands only, so that close to its ends a potential may be a little above its own.
func TestMaximumPrinciple(t *testing.T) {
	for i, tip := range []geometry.Vec{geometry.V(0.08, 0.05, -0.045), geometry.V(-0.08, 0.03, -0.045), geometry.V(0, 0, -0.03), bowlTip} {
		b := bowlRod{tip: tip, top: bowlTop, h: 4e-3, film: 0.02 * float64(i%2)}
		s, _ := b.solve(t)
		axis := b.top.Sub(b.tip).Unit()
		least, most := math.Inf(1), 0.0
		for cell, phi := range s.Potential() {
			d := s.solver.Liquid.Point(int32(cell)).Sub(b.tip)
			if off := d.AddScaled(axis, -d.Dot(axis)).Norm(); off > 0.005 || d.Dot(axis) < 0 {
				least, most = math.Min(least, phi), math.Max(most, phi)
			}
		}
		t.Logf("potential from %.5f to %.5f V", least, most)
		assert.GreaterOrEqual(t, least, -1e-3)
		assert.LessOrEqual(t, most, 1+1e-2)
	}
}

// The mirror image of tank and rod gets the same current.
func TestMirrorSymmetry(t *testing.T) {
	s, _ := bowlRod{tip: bowlTip, top: bowlTop, film: 0.01, h: 5e-3}.solve(t)
	mirror := func(p geometry.Vec) geometry.Vec { p.Y = -p.Y; return p }
	m, _ := bowlRod{tip: mirror(bowlTip), top: mirror(bowlTop), film: 0.01, h: 5e-3}.solve(t)
	assert.InEpsilon(t, s.Current, m.Current, 1e-4)
}

// Tank and rod turned together in the lattice are the same tank.
func TestTurningTankAndRodTogether(t *testing.T) {
	for _, film := range []float64{0, 0.02} {
		b := bowlRod{tip: bowlTip, top: bowlTop, film: film, h: 5e-3}
		s, _ := b.solve(t)
		for _, angle := range []float64{0.2, 0.7} {
			b.place = geometry.RotationAbout(geometry.V(0, 0, 1), angle).Apply
			turned, _ := b.solve(t)
			off := percent(turned.Current, s.Current)
			t.Logf("film %g turned by %g rad: current %+.3f %%", film, angle, off)
			assert.InDelta(t, 0, off, 0.3)
		}
	}
}

// The thicker the film, the evener the wall: p5 over the mean rises.
func TestThickerFilmEvenerWall(t *testing.T) {
	before := 0.0
	for _, film := range []float64{0.002, 0.02, 0.2, 2, 20} {
		s, r := bowlRod{tip: bowlTip, top: bowlTop, film: film, h: 6e-3}.solve(t)
		j, _ := s.WallCurrent(r)
		u := NewUniformity(r.Patches.All, j)
		even := u.Percentile(0.05) / u.Mean()
		assert.Greater(t, even, before, "film %g", film)
		before = even
	}
	assert.Greater(t, before, 0.98, "at 20 ohm m2 the film decides")
}
