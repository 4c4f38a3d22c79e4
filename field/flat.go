package field

import (
	"fmt"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
	"evenwall/geometry/vessel"
)

// flatBand returns the band of rod i where bare metal of it passes the layer of a problem of
// two dimensions, whose upper side is at Level; none where it does not.
func (p *Problem) flatBand(i int) []band {
	r := &p.Anodes[i].Rod
	z, start := p.Level-p.Flat/2, 0.0
	for k := 1; k < len(r.Path); k++ {
		a, b := r.Path[k-1], r.Path[k]
		leg := b.Dist(a)
		if (a.Z-z)*(b.Z-z) <= 0 && a.Z != b.Z {
			t := (z - a.Z) / (b.Z - a.Z)
			if isBare(r, start+t*leg) {
				return []band{{at: a.Lerp(b, t), axis: geometry.V(0, 0, 1), across: [2]geometry.Vec{{X: 1}, {Y: 1}},
					s0: -p.Flat / 2, s1: p.Flat / 2, r0: r.Radius, r1: r.Radius, metal: true, rod: i, flat: p.Flat}}
			}
		}
		start += leg
	}
	return nil
}

func isBare(r *geometry.Rod, s float64) bool {
	for _, span := range r.Bare {
		if s >= span.From && s <= span.To {
			return true
		}
	}
	return false
}

// Slice is a level section of a tank as one layer of liquid on a lattice: the same problem
// in two dimensions.
type Slice struct {
	Liquid *lattice.Liquid
	Level  float64 // upper side of the layer, m
	Steel  *Steel
	Tree   *geometry.Tree
	walls  geometry.Mesh
}

// Cut returns the section of the filled tank at z = height of the lattice's frame, m, in
// cells of the given spacing, m. The section must lie under the liquid's surface.
func (f *Filled) Cut(height, spacing float64) (*Slice, error) {
	s := &Slice{Level: height + spacing/2}
	tall := tallness * f.shell.Bounds().Size().Norm()
	shell, sheets := extruded(&f.shell, height, tall), extruded(&f.sheets, height, tall)
	if len(shell.Faces) == 0 {
		return nil, fmt.Errorf("the section at this height does not meet the tank: give one between its lowest point and the liquid")
	}
	box := shell.Bounds()
	box.Min.Z, box.Max.Z = height-spacing, height+spacing
	l, err := lattice.New(lattice.Placement{Bounds: box, Level: s.Level, H: spacing})
	if err != nil {
		return nil, err
	}
	s.Liquid = lattice.Fill(lattice.Filling{Surface: lattice.Enclose(l, &shell), Shell: &shell, Sheets: &sheets, Level: s.Level,
		Opening: f.opening(), Dry: func(p geometry.Vec) bool { return p.Z < height-0.4*spacing }})
	s.walls = shell
	s.walls.Append(sheets)
	s.Steel = f.cutSteel(height, spacing, tall)
	s.Tree = geometry.NewTree(&s.Steel.Mesh)
	return s, nil
}

// cutSteel returns the steel of a section, without what stands in openings.
func (f *Filled) cutSteel(height, spacing, tall float64) *Steel {
	wall := &f.Vessel.Wall
	mesh := turnedMesh(&wall.Mesh, f.Vessel.Turn)
	out := &Steel{}
	for _, kind := range []vessel.Kind{vessel.Shell, vessel.Baffle} {
		part := geometry.Mesh{Vertices: mesh.Vertices}
		for i, face := range mesh.Faces {
			if wall.Kind[i] == kind {
				part.Faces = append(part.Faces, face)
			}
		}
		cut := extruded(&part, height, tall)
		out.Mesh.Append(trimmed(&cut, height, spacing))
		for range cut.Faces {
			out.Inner = append(out.Inner, true)
			out.Outer = append(out.Outer, kind == vessel.Baffle)
		}
	}
	return out
}

// Normal returns the unit normal of a facet as the layer's wall links number them.
func (s *Slice) Normal(face int32) geometry.Vec { return s.walls.Triangle(int(face)).Normal() }

// Recovery returns the weights that turn potentials into wall current.
func (s *Slice) Recovery() *Recovery { return NewRecovery(s.Liquid, s.Steel, s.Tree) }

// tallness is how far the walls of a section stand up and down, in sizes of the tank: so
// far that what is inside is told by the walls alone.
const tallness = 3

// extruded returns upright walls along the line in which a mesh meets z = height.
func extruded(m *geometry.Mesh, height, tall float64) geometry.Mesh {
	var out geometry.Mesh
	up := geometry.V(0, 0, tall)
	for i := range m.Faces {
		t := m.Triangle(i)
		a, b, ok := crossed(t, height)
		if !ok || a.Dist(b) == 0 {
			continue
		}
		if b.Sub(a).Cross(up).Dot(t.Normal()) < 0 {
			a, b = b, a
		}
		n := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, a.Sub(up), b.Sub(up), b.Add(up), a.Add(up))
		out.Faces = append(out.Faces, [3]int32{n, n + 1, n + 2}, [3]int32{n, n + 2, n + 3})
	}
	return out
}

// crossed returns the stretch in which a facet meets z = height; a corner on it counts as
// above.
func crossed(t geometry.Triangle, height float64) (a, b geometry.Vec, ok bool) {
	corners := [3]geometry.Vec{t.A, t.B, t.C}
	var ends []geometry.Vec
	for i := range corners {
		p, q := corners[i], corners[(i+1)%3]
		if (p.Z >= height) != (q.Z >= height) {
			if p.Z > q.Z { // the same point from both facets of an edge
				p, q = q, p
			}
			ends = append(ends, p.Lerp(q, (height-p.Z)/(q.Z-p.Z)))
		}
	}
	if len(ends) != 2 {
		return a, b, false
	}
	return ends[0], ends[1], true
}

// trimmed returns the walls cut down to the layer itself.
func trimmed(m *geometry.Mesh, height, spacing float64) geometry.Mesh {
	out := geometry.Mesh{Vertices: append([]geometry.Vec(nil), m.Vertices...), Faces: m.Faces}
	for i, v := range out.Vertices {
		half := spacing / 2
		if v.Z < height {
			half = -half
		}
		out.Vertices[i].Z = height + half
	}
	return out
}
