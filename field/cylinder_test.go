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

// cell is a round shell with a thin rod along it: rod 12 mm, shell 200 mm, 300 mm long,
// 1.31 S/m, the sizes of the published shape factors' examples.
type cell struct {
	offset float64 // of the rod from the shell's axis, m
	film   float64 // on the shell, ohm m²
	h      float64
	shift  [2]float64
	turn   geometry.Rotation
}

const (
	rodRadius   = 0.006
	shellRadius = 0.100
	cellLength  = 0.300
	cellKappa   = 1.31
	beyond      = 0.020 // how far the rod goes on outside the ends
)

// oddTurn tips a cell by odd angles about all axes.
func oddTurn() geometry.Rotation {
	return geometry.RotationAbout(geometry.V(0.3, 1, 0.2), 0.37).After(geometry.RotationAbout(geometry.V(1, 0.1, 0.5), 0.61))
}

// tubeMesh returns a closed cylinder along z, z from -length/2 to length/2; facets below
// sides are the side, the rest the two ends.
func tubeMesh(radius, length float64, sides int) (m geometry.Mesh, side int) {
	const rings = 60
	radius /= (1 + 2*math.Cos(math.Pi/float64(sides))) / 3 // chords to the mean radius
	for k := range rings + 1 {
		for i := range sides {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
			m.Vertices = append(m.Vertices, geometry.V(radius*c, radius*s, length*(float64(k)/rings-0.5)))
		}
	}
	at := func(k, i int) int32 { return int32(k*sides + i%sides) }
	for k := range rings {
		for i := range sides {
			m.Faces = append(m.Faces, [3]int32{at(k, i), at(k, i+1), at(k+1, i+1)}, [3]int32{at(k, i), at(k+1, i+1), at(k+1, i)})
		}
	}
	side = len(m.Faces)
	low, high := int32(len(m.Vertices)), int32(len(m.Vertices)+1)
	m.Vertices = append(m.Vertices, geometry.V(0, 0, -length/2), geometry.V(0, 0, length/2))
	for i := range sides {
		m.Faces = append(m.Faces, [3]int32{low, at(0, i+1), at(0, i)}, [3]int32{high, at(rings, i), at(rings, i+1)})
	}
	return m, side
}

// image returns p, the distance from the shell's axis to the line of charge that makes
// both circles equipotentials (method of images).
func (c cell) image() float64 {
	a, b, e := rodRadius, shellRadius, c.offset
	if e == 0 {
		return 0
	}
	s := b*b + e*e - a*a
	return (s - math.Sqrt(s*s-4*e*e*b*b)) / (2 * e)
}

// perVolt returns the exact current per metre and volt for film 0 on an eccentric shell
// (Incropera and DeWitt, table 4.1, case 7), or for a film on a concentric one.
func (c cell) perVolt() float64 {
	a, b := rodRadius, shellRadius
	if c.film > 0 {
		return 1 / (math.Log(b/a)/(2*math.Pi*cellKappa) + c.film/(2*math.Pi*b))
	}
	return 2 * math.Pi * cellKappa / math.Acosh((b*b+a*a-c.offset*c.offset)/(2*a*b))
}

// potential returns the exact potential at 1 V on the rod, at a point of the cell's own
// frame (rod at x = offset).
func (c cell) potential(p geometry.Vec) float64 {
	b := shellRadius
	if c.film > 0 || c.offset == 0 {
		i := c.perVolt()
		return i*c.film/(2*math.Pi*b) + i/(2*math.Pi*cellKappa)*math.Log(b/math.Hypot(p.X, p.Y))
	}
	q := c.image()
	near, far := math.Hypot(p.X-q, p.Y), math.Hypot(p.X-b*b/q, p.Y)
	return c.perVolt() / (2 * math.Pi * cellKappa) * math.Log(far*q/(near*b))
}

// wallCurrent returns the exact current density into the shell at 1 V, at angle theta
// from the rod's side.
func (c cell) wallCurrent(theta float64) float64 {
	b, p := shellRadius, c.image()
	mean := c.perVolt() / (2 * math.Pi * b)
	return mean * (b*b - p*p) / (b*b - 2*b*p*math.Cos(theta) + p*p)
}

// solved is a cell's solution and what a test needs to compare it.
type solved struct {
	*Solution
	mesh geometry.Mesh
	side int
}

// solve runs the cell at 1 V, the exact potential held on its ends.
func (c cell) solve(t testing.TB) solved {
	mesh, side := tubeMesh(shellRadius, cellLength, 720)
	turned := mesh.Transformed(c.turn.Apply)
	const level = 1.0
	box := turned.Bounds()
	l, err := lattice.New(lattice.Placement{Bounds: box, Level: box.Max.Z + 0.01, H: c.h, Shift: c.shift})
	require.NoError(t, err)
	surface := lattice.Enclose(l, &turned)
	q := lattice.Fill(lattice.Filling{Surface: surface, Shell: &turned, Level: box.Max.Z + 0.01,
		// round the rod the ends are insulated, as the exact solution bears: no current runs along it
		Opening: func(at geometry.Vec) bool {
			p := c.turn.Inverse().Apply(at)
			return math.Abs(p.Z) > 0.149 && math.Hypot(p.X-c.offset, p.Y) < 2*rodRadius
		}})
	back := c.turn.Inverse()
	p := &Problem{Liquid: q, Level: 100, Conductivity: cellKappa, Wall: electrode.Film{Resistance: c.film},
		Normal: func(f int32) geometry.Vec { return turned.Triangle(int(f)).Normal() },
		Supply: Supply{Voltage: 1},
		Mirrors: []geometry.Plane{
			geometry.PlaneThrough(c.turn.Apply(geometry.V(0, 0, cellLength/2)), c.turn.Apply(geometry.V(0, 0, 1))),
			geometry.PlaneThrough(c.turn.Apply(geometry.V(0, 0, -cellLength/2)), c.turn.Apply(geometry.V(0, 0, -1)))},
		Anodes: []Anode{{Rod: geometry.Rod{Radius: rodRadius, Flat: true, Bare: []geometry.Span{{From: 0, To: cellLength + 2*beyond}},
			Path: geometry.Straight(c.turn.Apply(geometry.V(c.offset, 0, -cellLength/2-beyond)), c.turn.Apply(geometry.V(c.offset, 0, cellLength/2+beyond)))}}},
		Held: func(k *lattice.Link) (float64, bool) {
			if int(k.Face) < side {
				return 0, false
			}
			at := q.Point(k.Cell).AddScaled(k.Direction(), k.Theta*c.h)
			return math.Min(1, c.potential(back.Apply(at))), true
		},
	}
	s, err := Solve(context.Background(), p, Settings{})
	require.NoError(t, err)
	return solved{s, turned, side}
}

// perMetre returns the rod's current per metre over its middle third.
func (s solved) perMetre() float64 {
	sum, length := 0.0, 0.0
	for b, q := range s.solver.q[:s.solver.body.metal] {
		k := &s.solver.body.bands[b]
		if z, _ := k.middle(); z > beyond+cellLength/3 && z < beyond+2*cellLength/3 {
			sum += q
			length += k.s1 - k.s0
		}
	}
	return sum / length
}

func TestRodInCylinder(t *testing.T) {
	for _, c := range []struct {
		name string
		cell
	}{
		{"concentric", cell{}},
		{"concentric, film", cell{film: 0.02}},
		{"offset 30 mm", cell{offset: 0.030}},
		{"offset 50 mm", cell{offset: 0.050}},
		{"offset 80 mm", cell{offset: 0.080}},
	} {
		c.h, c.turn = 0.004, oddTurn()
		s := c.solve(t)
		far := 100 * (s.perMetre()/c.perVolt() - 1)
		t.Logf("%s: R off by %.3f %%, %d iterations (%v), balance %.5f", c.name, -far, s.Outcome.Iterations, s.Outcome.Status, s.Balance)
		assert.InDelta(t, 0, far, 1)
		l2, most, closure := s.wallError(c.cell)
		t.Logf("    wall j: L2 %.2f %%, greatest %.2f %%, closure %.4f", l2, most, closure)
	}
}

// wallError returns the L2 and the greatest error of the shell's current density over its
// middle third, in percent of the exact L2 norm and of the exact local value.
func (s solved) wallError(c cell) (l2, most, closure float64) {
	side := geometry.Mesh{Vertices: s.mesh.Vertices, Faces: s.mesh.Faces[:s.side]}
	inner, outer := make([]bool, s.side), make([]bool, s.side)
	for i := range inner {
		inner[i] = true
	}
	r := NewRecovery(s.solver.Liquid, &Steel{side, inner, outer}, geometry.NewTree(&side))
	j, closure := s.WallCurrent(r)
	back := c.turn.Inverse()
	sum, norm := 0.0, 0.0
	for i, p := range r.Patches.All {
		at := back.Apply(p.Centre)
		if math.Abs(at.Z) > cellLength/6 {
			continue
		}
		want := c.wallCurrent(math.Atan2(at.Y, at.X))
		if c.film > 0 {
			want = c.perVolt() / (2 * math.Pi * shellRadius)
		}
		d := j[i]*closure - want // before scaling
		sum += d * d * p.Area
		norm += want * want * p.Area
		most = math.Max(most, math.Abs(d)/want)
	}
	return 100 * math.Sqrt(sum/norm), 100 * most, closure
}
