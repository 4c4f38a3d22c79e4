package field

import "evenwall/geometry"

// sheets tells the two sides of the internal sheets apart.
type sheets struct {
	tree    *geometry.Tree // nil: no sheets
	normals []geometry.Vec
}

// sheetsOf collects the facets that liquid touches on both faces.
func sheetsOf(s *Steel) *sheets {
	out, mesh := &sheets{}, geometry.Mesh{Vertices: s.Mesh.Vertices}
	for i, f := range s.Mesh.Faces {
		if s.Inner[i] && s.Outer[i] {
			mesh.Faces = append(mesh.Faces, f)
			out.normals = append(out.normals, s.Mesh.Triangle(i).Normal())
		}
	}
	if len(mesh.Faces) > 0 {
		out.tree = geometry.NewTree(&mesh)
	}
	return out
}

// side returns on which side of the nearest sheet p lies: 1 where its facets' normals point
// to, -1 on the other, 0 when none is nearer than reach, m.
func (s *sheets) side(p geometry.Vec, reach float64) int8 {
	if s.tree == nil {
		return 0
	}
	foot, face, d := s.tree.ClosestWithin(p, reach)
	switch {
	case face < 0 || d > reach:
		return 0
	case p.Sub(foot).Dot(s.normals[face]) >= 0:
		return 1
	default:
		return -1
	}
}
