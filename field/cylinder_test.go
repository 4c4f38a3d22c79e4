package field

import (
	"math"

	"evenwall/geometry"
)

// cell is a round shell with a thin rod along it: rod 12 mm, shell 200 mm, 300 mm long,
// 1.31 S/m, the sizes of the published shape factors' examples.
type cell struct {
	offset float64 // of the rod from the shell's axis, m
	film   float64 // on the shell, ohm m²
	h      float64 // spacing, m
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
