package geometry

// Mesh is a surface of triangles that share corners. Faces hold indices into
// Vertices, anticlockwise as seen from outside. The zero value is the empty surface.
type Mesh struct {
	Vertices []Vec      // m
	Faces    [][3]int32 // indices into Vertices
}

// Triangle returns face i by its corners.
func (m *Mesh) Triangle(i int) Triangle {
	f := m.Faces[i]
	return Triangle{m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]}
}

// Bounds returns the smallest box around all vertices that a face uses.
func (m *Mesh) Bounds() Box {
	b := EmptyBox()
	for _, f := range m.Faces {
		for _, k := range f {
			switch v := &m.Vertices[k]; {
			case v.X >= b.Min.X && v.X <= b.Max.X && v.Y >= b.Min.Y && v.Y <= b.Max.Y && v.Z >= b.Min.Z && v.Z <= b.Max.Z:
			default:
				b = b.Include(*v)
			}
		}
	}
	return b
}

// Area returns the summed area of all faces, m².
func (m *Mesh) Area() float64 {
	sum := 0.0
	for i := range m.Faces {
		sum += m.Triangle(i).Area()
	}
	return sum
}

// Volume returns the enclosed volume by the divergence theorem, m³: positive when
// normals point outward. The surface must be closed for it to mean anything.
func (m *Mesh) Volume() float64 {
	if len(m.Faces) == 0 {
		return 0
	}
	origin, sum := m.Bounds().Centre(), 0.0
	for i := range m.Faces {
		t := m.Triangle(i)
		sum += t.A.Sub(origin).Dot(t.B.Sub(origin).Cross(t.C.Sub(origin)))
	}
	return sum / 6
}

// Transformed returns a copy of m with f applied to every vertex. f must keep
// handedness, or the facets turn inside out.
func (m *Mesh) Transformed(f func(Vec) Vec) Mesh {
	out := Mesh{Vertices: make([]Vec, len(m.Vertices)), Faces: append([][3]int32(nil), m.Faces...)}
	for i, v := range m.Vertices {
		out.Vertices[i] = f(v)
	}
	return out
}

// Is reports whether other is this very mesh, its faces not copied.
func (m *Mesh) Is(other *Mesh) bool {
	return len(m.Faces) == len(other.Faces) && (len(m.Faces) == 0 || &m.Faces[0] == &other.Faces[0])
}

// Append adds all of other to m, as a further shell.
func (m *Mesh) Append(other Mesh) {
	base := int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, other.Vertices...)
	for _, f := range other.Faces {
		m.Faces = append(m.Faces, [3]int32{f[0] + base, f[1] + base, f[2] + base})
	}
}
