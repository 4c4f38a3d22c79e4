package plan

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// rimError is how far the rim in a tree of withRims may stand into the true circle, m.
const rimError = 1e-5

// withRims returns wall for measuring distances to. The cut at an opening leaves edges a
// little inside its circle, by up to half a per cent of its radius: they are brought out to
// it. Faces of the tree count as those of wall, split ones follow.
func (t *Tank) withRims(wall *geometry.Mesh) *geometry.Tree {
	m := geometry.Mesh{Vertices: append([]geometry.Vec(nil), wall.Vertices...), Faces: append([][3]int32(nil), wall.Faces...)}
	for i := range t.Openings {
		if o := &t.Openings[i]; o.Use != vessel.Steel {
			rim{&m, o.Disc()}.bringOut()
		}
	}
	return geometry.NewTree(&m)
}

// rim is a circle in a mesh that is cut out along it.
type rim struct {
	mesh *geometry.Mesh
	disc geometry.Disc
}

// bringOut moves corners that lie a little inside the circle onto it, and splits edges
// until none stands in by more than rimError.
func (r rim) bringOut() {
	at := make([]bool, len(r.mesh.Vertices)) // on the circle, or near it
	for k, p := range r.mesh.Vertices {
		if in := r.inward(p); in > -0.01*r.disc.Radius && in < 0.01*r.disc.Radius {
			at[k] = true
			r.mesh.Vertices[k] = r.outTo(p)
		}
	}
	for i := 0; i < len(r.mesh.Faces); i++ { // splitting adds faces, which are visited too
		f := r.mesh.Faces[i]
		for k := range 3 {
			if a, b := f[k], f[(k+1)%3]; at[a] && at[b] && r.stands(a, b) {
				at = append(at, true)
				r.split(i, k)
				i--
				break
			}
		}
	}
}

// inward returns how far p lies inside the circle, m; -Inf where it is not near its plane.
func (r rim) inward(p geometry.Vec) float64 {
	axis := r.disc.Axis.Unit()
	q := p.Sub(r.disc.Centre)
	along := q.Dot(axis)
	if math.Abs(along) >= r.disc.Depth {
		return math.Inf(-1)
	}
	return r.disc.Radius - q.AddScaled(axis, -along).Norm()
}

// outTo returns p moved out to the circle if it lies inside it.
func (r rim) outTo(p geometry.Vec) geometry.Vec {
	in := r.inward(p)
	if in <= 0 || in >= r.disc.Radius {
		return p
	}
	axis := r.disc.Axis.Unit()
	q := p.Sub(r.disc.Centre)
	return p.AddScaled(q.AddScaled(axis, -q.Dot(axis)).Unit(), in)
}

// stands reports whether the edge between two corners at the circle stands into it.
func (r rim) stands(a, b int32) bool {
	in := r.inward(r.mesh.Vertices[a].Lerp(r.mesh.Vertices[b], 0.5))
	return in > rimError && in < 0.02*r.disc.Radius
}

// split halves edge k of face i at the circle: the face keeps the first half.
func (r rim) split(i, k int) {
	f := r.mesh.Faces[i]
	a, b, c := f[k], f[(k+1)%3], f[(k+2)%3]
	middle := int32(len(r.mesh.Vertices))
	r.mesh.Vertices = append(r.mesh.Vertices, r.outTo(r.mesh.Vertices[a].Lerp(r.mesh.Vertices[b], 0.5)))
	r.mesh.Faces[i] = [3]int32{a, middle, c}
	r.mesh.Faces = append(r.mesh.Faces, [3]int32{middle, b, c})
}
