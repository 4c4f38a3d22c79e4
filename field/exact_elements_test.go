package field

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"evenwall/field/electrode"
	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// elements is a second route to a tank's current: boundary elements, constant on flat
// facets, direct formulation, the liquid's surface z = 0 by mirror images. It shares nothing
// with the solver but the mesh.
//
//	phi(i)/2 = sum over k of [ S(i,k) q(k) + D(i,k) phi(k) ],  q = dphi/dn,
//
// normals out of the liquid; phi = −film·kappa·q on the wall, 1 V on the rod.
type elements struct {
	facets []geometry.Triangle
	rod    int // facets from here on are the rod
}

// single returns the integral of 1/(4 pi |p − x|) over a facet (Wilton et al. 1984, IEEE
// Trans. AP 32, 276, eq. 5, from memory), and solid the angle it is seen under over 4 pi,
// positive where its normal points away from p (Van Oosterom and Strackee 1983, eq. 8).
func (e *elements) single(t geometry.Triangle, p geometry.Vec) (single, solid float64) {
	n := t.Normal()
	corner := [3]geometry.Vec{t.A.Sub(p), t.B.Sub(p), t.C.Sub(p)}
	height := corner[0].Dot(n)
	sum := 0.0
	for i := range 3 {
		a, b := corner[i], corner[(i+1)%3]
		along := b.Sub(a).Unit()
		out := along.Cross(n)
		ra, rb := a.Norm(), b.Norm()
		la, lb := a.Dot(along), b.Dot(along)
		if d := ra + la; d > 1e-12 && rb+lb > 1e-12 {
			sum += a.Dot(out) * math.Log((rb+lb)/d)
		} else {
			sum += a.Dot(out) * math.Log((ra-la)/(rb-lb))
		}
	}
	a, b, c := corner[0], corner[1], corner[2]
	ra, rb, rc := a.Norm(), b.Norm(), c.Norm()
	angle := 2 * math.Atan2(a.Dot(b.Cross(c)), ra*rb*rc+a.Dot(b)*rc+b.Dot(c)*ra+c.Dot(a)*rb)
	return (sum - height*angle) / (4 * math.Pi), angle / (4 * math.Pi)
}

// solve returns the current density into each facet at 1 V, A/m², negative on the rod.
func (e *elements) solve(t *testing.T, kappa, film float64) []float64 {
	n := len(e.facets)
	a, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	spread(n, func(i int) {
		p := e.facets[i].Centroid()
		mirrored := geometry.V(p.X, p.Y, -p.Z)
		right := 0.0
		for k, f := range e.facets {
			s, d := e.single(f, p)
			s2, d2 := e.single(f, mirrored)
			if k == i {
				d = 0
			}
			s, d = s+s2, d+d2
			if k == i {
				d -= 0.5
			}
			if k < e.rod { // phi = film j, j = −kappa q
				a.Set(i, k, d*film-s/kappa)
			} else {
				a.Set(i, k, -s/kappa)
				right -= d
			}
		}
		b.SetVec(i, right)
	})
	var j mat.VecDense
	require.NoError(t, j.SolveVec(a, b))
	return j.RawVector().Data
}

// addRod appends an upright round rod from z = tip to the surface as facets turned out of
// the liquid, flat at its end.
func (e *elements) addRod(x, y, tip, radius float64, around int) {
	e.rod = len(e.facets)
	ring := circle(radius, around)
	const rings = 24
	at := func(k, i int) geometry.Vec {
		p := ring[i%around]
		s := float64(k) / float64(rings) // fine towards the tip
		return geometry.V(x+p[0], y+p[1], tip*(1-s*s*(3-s)/2))
	}
	for i := range around {
		e.facets = append(e.facets, geometry.Triangle{A: geometry.V(x, y, tip), B: at(0, i), C: at(0, i+1)})
		for k := range rings {
			e.facets = append(e.facets, geometry.Triangle{A: at(k, i), B: at(k+1, i+1), C: at(k, i+1)},
				geometry.Triangle{A: at(k, i), B: at(k+1, i), C: at(k+1, i+1)})
		}
	}
}

// openBox returns the wetted walls of a box cut into squares, z from -depth to 0.
func openBox(x, y, depth, size float64) []geometry.Triangle {
	var out []geometry.Triangle
	sheet := func(at, u, v geometry.Vec) { // normal u × v
		nu, nv := int(math.Round(u.Norm()/size)), int(math.Round(v.Norm()/size))
		p := func(i, k int) geometry.Vec {
			return at.AddScaled(u, float64(i)/float64(nu)).AddScaled(v, float64(k)/float64(nv))
		}
		for i := range nu {
			for k := range nv {
				out = append(out, geometry.Triangle{A: p(i, k), B: p(i+1, k), C: p(i+1, k+1)}, geometry.Triangle{A: p(i, k), B: p(i+1, k+1), C: p(i, k+1)})
			}
		}
	}
	low := geometry.V(0, 0, -depth)
	ux, uy, uz := geometry.V(x, 0, 0), geometry.V(0, y, 0), geometry.V(0, 0, depth)
	sheet(low, uy, ux)
	sheet(low, ux, uz)
	sheet(low.Add(uy), uz, ux)
	sheet(low, uz, uy)
	sheet(low.Add(ux), uy, uz)
	return out
}

// boxRow and saddleRow: the solver against boundary elements on a box and a saddle tank's
// like.
func boxRow(t *testing.T) exactRow {
	whole := boxMesh(0.24, 0.16, 0.15)
	box := whole.Transformed(func(v geometry.Vec) geometry.Vec { v.Z -= 0.12; return v })
	return routesRow(t, "box, film 0 and 0.02 ohm m2", box, openBox(0.24, 0.16, 0.12, 0.016), geometry.V(0.08, 0.07, -0.07))
}

func saddleRow(t *testing.T) exactRow {
	saddle := bowl(12, 36)
	return routesRow(t, "saddle, film 0 and 0.02 ohm m2", saddle, trianglesOf(wetted(&saddle)), geometry.V(0.06, 0.02, -0.05))
}

// routesRow compares the two at film 0 and 0.02; the rod hangs plumb, its tip as given.
func routesRow(t *testing.T, what string, mesh geometry.Mesh, wet []geometry.Triangle, tip geometry.Vec) exactRow {
	e := elements{facets: wet}
	e.addRod(tip.X, tip.Y, tip.Z, 0.005, 12)
	worst := 0.0
	for _, film := range []float64{0, 0.02} {
		j := e.solve(t, 0.6, film)
		total := 0.0
		for i, f := range e.facets[:e.rod] {
			total += j[i] * f.Area()
		}
		worst = math.Max(worst, math.Abs(percent(tankCurrent(t, mesh, tip, film), total)))
	}
	r := exactRow{what: what, against: "boundary elements, a second route in the tests"}
	r.measured(t, "current", worst, 1)
	return r
}

func trianglesOf(m geometry.Mesh) (out []geometry.Triangle) {
	for i := range m.Faces {
		out = append(out, m.Triangle(i))
	}
	return out
}

// tankCurrent solves the same tank with the solver, level z = 0, at 1 V.
func tankCurrent(t *testing.T, mesh geometry.Mesh, tip geometry.Vec, film float64) float64 {
	l, err := lattice.New(lattice.Placement{Bounds: mesh.Bounds(), Level: 0, H: 3e-3})
	require.NoError(t, err)
	q := lattice.Fill(lattice.Filling{Surface: lattice.Enclose(l, &mesh), Shell: &mesh, Level: 0})
	s, err := Solve(context.Background(), &Problem{Liquid: q, Level: 0, Conductivity: 0.6, Wall: electrode.Film{Resistance: film},
		Normal: func(f int32) geometry.Vec { return mesh.Triangle(int(f)).Normal() }, Supply: Supply{Voltage: 1},
		Anodes: []Anode{{Rod: geometry.Rod{Radius: 0.005, Flat: true, Path: geometry.Straight(tip, geometry.V(tip.X, tip.Y, 0.05)),
			Bare: []geometry.Span{{From: 0, To: 1}}}}}}, Settings{})
	require.NoError(t, err)
	return s.Current
}
