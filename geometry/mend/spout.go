package mend

import (
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Spout is a tube that goes on into the tank from a hole in its wall, open at its inner end.
type Spout struct {
	Centre   geometry.Vec // middle of its outer end, in the wall, m
	Diameter float64      // m
	Length   float64      // m
}

const (
	// spoutLeast and spoutMost are the diameters that a filler's or a vent's tube has, m;
	// common practice, no source.
	spoutLeast, spoutMost = 0.008, 0.200
	// spoutShort is the length below which a rim turned in is no tube, m.
	spoutShort = 0.003
	// spoutCorners is the least number of corners of its rim.
	spoutCorners = 8
	// spoutStray is how far its rim may stray from a circle, and its facets from the tube, as
	// a share of the radius.
	spoutStray = 0.2
)

// takeSpouts takes the tubes of one sheet that go on inward from a hole in the wall off the
// surface: steel with liquid on both sides. Closing the inner end would make them solid.
func (w *work) takeSpouts() {
	sign := math.Copysign(1, w.mesh.Volume())
	drop := make([]bool, len(w.mesh.Faces))
	for _, loop := range loopsOf(w.edges) {
		r, ok := w.rimOf(loop)
		if !ok {
			continue
		}
		tube, length := w.tubeFrom(&r, sign)
		if length < math.Max(spoutShort, spoutStray*r.radius) {
			continue
		}
		for _, f := range tube {
			drop[f] = true
		}
		w.sheets = append(w.sheets, (&piece{faces: tube}).mesh(&w.mesh))
		w.report.Spouts = append(w.report.Spouts, Spout{r.centre.AddScaled(r.axis, length), 2 * r.radius, length})
	}
	if len(w.report.Spouts) > 0 {
		w.mesh = compact(geometry.Mesh{Vertices: w.mesh.Vertices, Faces: without(w.mesh.Faces, drop)})
		w.edges = topology.Edges(&w.mesh)
	}
}

// round is a rim that is nearly a circle; axis, of length 1, points along the tube that it
// ends, once that is known.
type round struct {
	loop         []int32
	centre, axis geometry.Vec
	radius       float64 // m
}

// rimOf returns the circle of a loop of open sides; false when it is none of a tube's size.
func (w *work) rimOf(loop []int32) (round, bool) {
	if len(loop) < spoutCorners {
		return round{}, false
	}
	r := round{loop: loop, centre: middle(&w.mesh, loop)}
	for i, v := range loop {
		a, b := w.mesh.Vertices[v].Sub(r.centre), w.mesh.Vertices[loop[(i+1)%len(loop)]].Sub(r.centre)
		r.axis = r.axis.Add(a.Cross(b))
		r.radius += a.Norm() / float64(len(loop))
	}
	if r.axis == (geometry.Vec{}) || 2*r.radius < spoutLeast || 2*r.radius > spoutMost {
		return round{}, false
	}
	r.axis = r.axis.Unit()
	for _, v := range loop {
		along, aside := r.split(w.mesh.Vertices[v])
		if math.Abs(along) > spoutStray*r.radius || math.Abs(aside.Norm()-r.radius) > spoutStray*r.radius {
			return round{}, false
		}
	}
	return r, true
}

// split returns how far p is along the axis from the rim, m, and its way from the axis.
func (r *round) split(p geometry.Vec) (along float64, aside geometry.Vec) {
	d := p.Sub(r.centre)
	along = d.Dot(r.axis)
	return along, d.AddScaled(r.axis, -along)
}

// tubeFrom returns the facets of the tube that ends in a rim if they face its axis, out of
// liquid that is round it, and the surface goes on from its other end, and how long it is, m;
// none otherwise. A neck's facets face away from its axis. sign is -1 for a surface that is
// turned inside out.
func (w *work) tubeFrom(r *round, sign float64) (tube []int32, length float64) {
	first := w.facesAt(r.loop)
	if along, _ := r.split(w.mesh.Triangle(int(first[0])).Centroid()); along < 0 {
		r.axis = r.axis.Scale(-1)
	}
	may := make([]bool, len(w.mesh.Faces))
	for f := range may {
		may[f] = w.isTube(r, f)
	}
	var within []topology.Edge
	for _, e := range w.edges {
		if len(e.Uses) == 2 && may[e.Uses[0].Face] && may[e.Uses[1].Face] {
			within = append(within, e)
		}
	}
	part, _ := topology.Shells(within, len(may))
	facing, area := 0.0, 0.0
	for f := range may {
		if !may[f] || part[f] != part[first[0]] {
			continue
		}
		t := w.mesh.Triangle(f)
		_, aside := r.split(t.Centroid())
		tube = append(tube, int32(f))
		facing, area = facing+sign*t.AreaVector().Dot(aside.Unit()), area+t.Area()
	}
	if facing > -area/2 || !w.goesOn(tube) {
		return nil, 0
	}
	return tube, r.lengthOf(&w.mesh, tube)
}

// facesAt returns the facets at the open sides of a loop.
func (w *work) facesAt(loop []int32) []int32 {
	at := make(map[int32]bool, len(loop))
	for _, v := range loop {
		at[v] = true
	}
	var out []int32
	for _, e := range w.edges {
		if e.IsOpen() && at[e.A] && at[e.B] {
			out = append(out, e.Uses[0].Face)
		}
	}
	return out
}

// isTube reports whether a facet may be part of the tube behind a rim.
func (w *work) isTube(r *round, f int) bool {
	const across = 0.5 // cosine between the facet's normal and the axis at most
	t := w.mesh.Triangle(f)
	along, aside := r.split(t.Centroid())
	return along >= -spoutStray*r.radius && math.Abs(aside.Norm()-r.radius) <= spoutStray*r.radius && math.Abs(t.Normal().Dot(r.axis)) < across
}

// goesOn reports whether the surface goes on beside these facets.
func (w *work) goesOn(faces []int32) bool {
	of := make(map[int32]bool, len(faces))
	for _, f := range faces {
		of[f] = true
	}
	return slices.ContainsFunc(w.edges, func(e topology.Edge) bool {
		return len(e.Uses) == 2 && of[e.Uses[0].Face] != of[e.Uses[1].Face]
	})
}

// lengthOf returns how far facets reach along the axis from the rim, m.
func (r *round) lengthOf(m *geometry.Mesh, faces []int32) float64 {
	far := 0.0
	for _, f := range faces {
		for _, v := range m.Faces[f] {
			along, _ := r.split(m.Vertices[v])
			far = math.Max(far, along)
		}
	}
	return far
}
