package mend

import (
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Sheet mends an inner sheet, which is open by its nature: doubled facets, cracks, facets
// turned against each other and stray bits as in a shell, and holes and notches in its
// edge narrower than 12 mm. Wider ones are part of it.
func Sheet(m geometry.Mesh) (geometry.Mesh, Report) {
	w := work{mesh: m, edges: topology.Edges(&m), reach: reachOf(&m)}
	w.gather()
	if pieces := piecesOf(&w.mesh, w.edges); len(pieces) > 1 {
		main := largest(pieces)
		w.mesh = keep(&w.mesh, pieces, func(i int) bool {
			stray := i != main && pieces[i].bounds.Size().Norm() < smallHole
			if stray {
				w.report.addStray(&pieces[i])
			}
			return !stray
		})
		w.edges = topology.Edges(&w.mesh)
	}
	w.mesh.Faces = slices.Clone(w.mesh.Faces)
	for _, h := range holesOf(&w.mesh, w.edges, &w.settings, w.reach) {
		if h.Across < smallHole {
			w.mesh.Faces = append(w.mesh.Faces, h.faces...)
			w.report.Holes = append(w.report.Holes, h.Hole)
			continue
		}
		w.fillNotches(&h)
	}
	w.report.sort()
	return w.mesh, w.report
}

// straight is the cosine of the turn up to which an edge counts as going straight on: 26
// degrees, as round a hole of 40 mm with corners 9 mm apart.
const straight = 0.9

// fillNotches closes what is missing at the edge of a sheet where facets are lost: stretches
// of the edge that leave it and come back to it within 12 mm, straight on.
func (w *work) fillNotches(h *holed) {
	loop := h.loop
	n := len(loop)
	at := func(i int) geometry.Vec { return w.mesh.Vertices[loop[(i+n)%n]] }
	for i := 0; i < n; {
		k := w.notch(at, n, i)
		if k == 0 {
			i++
			continue
		}
		part := make([]int32, 0, k+1)
		for s := range k + 1 {
			part = append(part, loop[(i+s)%n])
		}
		hole := holed{loop: part}
		hole.fill(&w.mesh, w.edges)
		if !w.continues(&hole, loop[(i-1+n)%n]) {
			i++
			continue
		}
		hole.Centre, hole.Across = middle(&w.mesh, part), across(&w.mesh, part)
		w.mesh.Faces = append(w.mesh.Faces, hole.faces...)
		w.report.Holes = append(w.report.Holes, hole.Hole)
		i += k
	}
}

// continues reports whether a patch goes on from the sheet beside the side from before to
// its first corner, as one in a notch does; over a tab it would lie on it, turned over.
func (w *work) continues(h *holed, before int32) bool {
	i, ok := findEdge(w.edges, before, h.loop[0])
	if !ok {
		return false
	}
	var normal geometry.Vec
	for _, f := range h.faces {
		normal = normal.Add(geometry.Triangle{A: w.mesh.Vertices[f[0]], B: w.mesh.Vertices[f[1]], C: w.mesh.Vertices[f[2]]}.AreaVector())
	}
	return normal.Dot(w.mesh.Triangle(int(w.edges[i].Uses[0].Face)).Normal()) > 0
}

// mostNotch is the number of sides that a notch has at most.
const mostNotch = 8

// notch returns how many sides from corner i on are a notch, 0 for none: they run on the
// sheet's side of the straight line over them, which goes on from the side before and into
// the side after.
func (w *work) notch(at func(int) geometry.Vec, n, i int) int {
	before := at(i).Sub(at(i - 1)).Unit()
	for k := min(mostNotch, n/2); k >= 2; k-- {
		over := at(i + k).Sub(at(i))
		length := over.Norm()
		if length == 0 || length >= smallHole {
			continue
		}
		over = over.Unit()
		after := at(i + k + 1).Sub(at(i + k)).Unit()
		if before.Dot(over) < straight || over.Dot(after) < straight {
			continue
		}
		deep := 0.0
		for s := 1; s < k; s++ {
			d := at(i + s).Sub(at(i))
			deep = math.Max(deep, d.AddScaled(over, -d.Dot(over)).Norm())
		}
		if deep > 0.3*length && deep < smallHole {
			return k
		}
	}
	return 0
}
