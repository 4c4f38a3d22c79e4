package mend

import (
	"evenwall/geometry"
)

// takeOffSheet moves an outside skin inward by the thickness of the sheet.
func (w *work) takeOffSheet() {
	if w.report.Skins > 0 {
		return // the inner skin is there already
	}
	w.mesh = Offset(w.mesh, -w.settings.Sheet)
	w.open = Offset(w.open, -w.settings.Sheet)
	w.report.TakenOff = w.settings.Sheet
}

// Offset returns m with every facet's plane moved along its outward normal by d metres:
// each corner goes to where the moved planes about it meet, as nearly as they do (least
// squares, damped where the planes are nearly one). Sides shorter than d at inward corners
// can fold.
func Offset(m geometry.Mesh, d float64) geometry.Mesh {
	normals := make([]cornerPlanes, len(m.Vertices))
	for i, f := range m.Faces {
		t := m.Triangle(i)
		n := t.Normal()
		corners := [3]geometry.Vec{t.A, t.B, t.C}
		for k, v := range f {
			a, b := corners[(k+1)%3].Sub(corners[k]).Unit(), corners[(k+2)%3].Sub(corners[k]).Unit()
			normals[v].add(n, a.Cross(b).Norm())
		}
	}
	out := geometry.Mesh{Vertices: make([]geometry.Vec, len(m.Vertices)), Faces: m.Faces}
	for v := range m.Vertices {
		out.Vertices[v] = m.Vertices[v].AddScaled(normals[v].shift(), d)
	}
	return out
}

// cornerPlanes sums the planes that meet in a corner.
type cornerPlanes struct {
	xx, xy, xz, yy, yz, zz float64      // sum of w n nᵀ
	sum                    geometry.Vec // sum of w n
	weight                 float64
}

func (c *cornerPlanes) add(n geometry.Vec, w float64) {
	c.xx, c.xy, c.xz = c.xx+w*n.X*n.X, c.xy+w*n.X*n.Y, c.xz+w*n.X*n.Z
	c.yy, c.yz, c.zz = c.yy+w*n.Y*n.Y, c.yz+w*n.Y*n.Z, c.zz+w*n.Z*n.Z
	c.sum = c.sum.AddScaled(n, w)
	c.weight += w
}

// damping keeps a corner between nearly parallel planes from running off along them, as a
// share of the planes' own weight.
const damping = 1e-3

// shift returns the displacement s with n·s = 1 for all planes, in the least-squares sense,
// nearest to the mean normal.
func (c *cornerPlanes) shift() geometry.Vec {
	if c.weight == 0 {
		return geometry.Vec{}
	}
	mean := c.sum.Scale(1 / c.weight)
	if length := mean.Norm(); length > 0 {
		mean = mean.Scale(1 / (length * length)) // exact where all planes lean alike
	}
	e := damping * c.weight
	s := solve3(geometry.V(c.xx+e, c.xy, c.xz), geometry.V(c.xy, c.yy+e, c.yz), geometry.V(c.xz, c.yz, c.zz+e), c.sum.AddScaled(mean, e))
	const most = 3 // displacements: a spike goes no farther
	if length := s.Norm(); length > most {
		s = s.Scale(most / length)
	}
	return s
}

// solve3 solves the system with the rows a, b, c by Cramer's rule.
func solve3(a, b, c, right geometry.Vec) geometry.Vec {
	det := a.Dot(b.Cross(c))
	if det == 0 {
		return geometry.Vec{}
	}
	return b.Cross(c).Scale(right.X).Add(c.Cross(a).Scale(right.Y)).Add(a.Cross(b).Scale(right.Z)).Scale(1 / det)
}
