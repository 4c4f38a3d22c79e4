package field

import (
	"math"

	"evenwall/geometry"
)

// prism returns a closed prism along z, from -length/2 to length/2, over a convex polygon
// that goes round anticlockwise, its sides cut into rings. Facet f < sides belongs to side
// f/2 % len(polygon); the rest are the two ends.
func prism(polygon [][2]float64, length float64, rings int) (m geometry.Mesh, sides int) {
	n := len(polygon)
	var cx, cy float64
	for _, p := range polygon {
		cx, cy = cx+p[0]/float64(n), cy+p[1]/float64(n)
	}
	for k := range rings + 1 {
		for _, p := range polygon {
			m.Vertices = append(m.Vertices, geometry.V(p[0], p[1], length*(float64(k)/float64(rings)-0.5)))
		}
	}
	at := func(k, i int) int32 { return int32(k*n + i%n) }
	for k := range rings {
		for i := range n {
			m.Faces = append(m.Faces, [3]int32{at(k, i), at(k, i+1), at(k+1, i+1)}, [3]int32{at(k, i), at(k+1, i+1), at(k+1, i)})
		}
	}
	sides = len(m.Faces)
	low := int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, geometry.V(cx, cy, -length/2), geometry.V(cx, cy, length/2))
	for i := range n {
		m.Faces = append(m.Faces, [3]int32{low, at(0, i+1), at(0, i)}, [3]int32{low + 1, at(rings, i), at(rings, i+1)})
	}
	return m, sides
}

// circle returns a polygon of n sides whose mean radius is the given one.
func circle(radius float64, n int) [][2]float64 {
	radius /= (1 + 2*math.Cos(math.Pi/float64(n))) / 3 // chords to the mean radius
	out := make([][2]float64, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = [2]float64{radius * c, radius * s}
	}
	return out
}

// sphere returns a sphere about the origin, an octahedron whose facets are cut in four the
// given number of times, its mean radius the given one.
func sphere(radius float64, cuts int) geometry.Mesh {
	m := geometry.Mesh{Vertices: []geometry.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}}}
	for _, f := range [][3]int32{{0, 2, 4}, {2, 1, 4}, {1, 3, 4}, {3, 0, 4}, {2, 0, 5}, {1, 2, 5}, {3, 1, 5}, {0, 3, 5}} {
		m.Faces = append(m.Faces, f)
	}
	for range cuts {
		m = cutInFour(m, geometry.Vec.Unit)
	}
	within := math.Cbrt(3 * m.Volume() / (4 * math.Pi)) // of the sphere of the same volume
	return m.Transformed(func(v geometry.Vec) geometry.Vec { return v.Scale(radius / within) })
}

// cutInFour cuts every facet at the middles of its edges, which place puts on the surface.
func cutInFour(m geometry.Mesh, place func(geometry.Vec) geometry.Vec) geometry.Mesh {
	out := geometry.Mesh{Vertices: append([]geometry.Vec(nil), m.Vertices...)}
	middles := map[[2]int32]int32{}
	middle := func(a, b int32) int32 {
		key := [2]int32{min(a, b), max(a, b)}
		if i, ok := middles[key]; ok {
			return i
		}
		i := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, place(m.Vertices[a].Lerp(m.Vertices[b], 0.5)))
		middles[key] = i
		return i
	}
	for _, f := range m.Faces {
		a, b, c := middle(f[0], f[1]), middle(f[1], f[2]), middle(f[2], f[0])
		out.Faces = append(out.Faces, [3]int32{f[0], a, c}, [3]int32{a, f[1], b}, [3]int32{c, b, f[2]}, [3]int32{a, b, c})
	}
	return out
}

// dome returns a closed half ball, z ≥ 0, of the given mean radius; facets from base on are
// its flat floor.
func dome(radius float64, rings, around int) (m geometry.Mesh, base int) {
	radius /= 1 - math.Pow(math.Pi/2/float64(rings), 2)/12 - math.Pow(2*math.Pi/float64(around), 2)/24
	for k := range rings { // the last ring is a point
		s, c := math.Sincos(math.Pi / 2 * float64(k) / float64(rings))
		for i := range around {
			y, x := math.Sincos(2 * math.Pi * float64(i) / float64(around))
			m.Vertices = append(m.Vertices, geometry.V(radius*c*x, radius*c*y, radius*s))
		}
	}
	at := func(k, i int) int32 { return int32(k*around + i%around) }
	top := int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, geometry.V(0, 0, radius), geometry.V(0, 0, 0))
	for k := range rings {
		for i := range around {
			if k == rings-1 {
				m.Faces = append(m.Faces, [3]int32{at(k, i), at(k, i+1), top})
				continue
			}
			m.Faces = append(m.Faces, [3]int32{at(k, i), at(k, i+1), at(k+1, i+1)}, [3]int32{at(k, i), at(k+1, i+1), at(k+1, i)})
		}
	}
	base = len(m.Faces)
	for i := range around {
		m.Faces = append(m.Faces, [3]int32{top + 1, at(0, i+1), at(0, i)})
	}
	return m, base
}
