package mend

import (
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Sheet mends an inner sheet, which is open by its nature: doubled facets, cracks, facets
// turned against each other and stray bits as in a shell, and holes and notches in its
// edge narrower than 12 mm. Wider ones are part of it. Where the sheet's edge comes within a
// crack of the shell it is brought to it.
func Sheet(m geometry.Mesh, shell *geometry.Mesh) (geometry.Mesh, Report) {
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
	w.mesh.Vertices = slices.Clone(w.mesh.Vertices)
	held := w.bringTo(geometry.NewTree(shell))
	for _, h := range holesOf(&w.mesh, w.edges, &w.settings, w.reach) {
		if h.Across < smallHole {
			w.mesh.Faces = append(w.mesh.Faces, h.faces...)
			w.report.Holes = append(w.report.Holes, h.Hole)
			continue
		}
		w.fillNotches(&h, held)
	}
	w.report.sort()
	return w.mesh, w.report
}

// straight is the cosine of the turn up to which an edge counts as going straight on: 26
// degrees, as round a hole of 40 mm with corners 9 mm apart.
const straight = 0.9

// bringTo brings the corners at the sheet's edge that lie within a crack of the shell onto
// it, and marks them.
func (w *work) bringTo(shell *geometry.Tree) (held []bool) {
	held = make([]bool, len(w.mesh.Vertices))
	for _, e := range w.edges {
		if !e.IsOpen() {
			continue
		}
		for _, v := range [2]int32{e.A, e.B} {
			if held[v] {
				continue
			}
			if p, face, _ := shell.ClosestWithin(w.mesh.Vertices[v], w.reach); face >= 0 {
				w.mesh.Vertices[v], held[v] = p, true
			}
		}
	}
	return held
}

// fillNotches closes what is missing at the edge of a sheet where facets are lost: stretches
// of the edge that leave it and come back to it within 12 mm, straight on, or that leave the
// shell and come back to it.
func (w *work) fillNotches(h *holed, held []bool) {
	loop := h.loop
	n := len(loop)
	at := func(i int) geometry.Vec { return w.mesh.Vertices[loop[(i+n)%n]] }
	on := func(i int) bool { return held[loop[(i+n)%n]] }
	for i := 0; i < n; {
		k := notch(edge{n, at, on}, i)
		if k == 0 {
			i++
			continue
		}
		part := make([]int32, 0, k+1)
		for s := range k + 1 {
			part = append(part, loop[(i+s)%n])
		}
		hole := holed{loop: part}
		hole.fill(&w.mesh, newSides(w.edges))
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

// edge is a sheet's edge as a closed walk.
type edge struct {
	corners int
	at      func(int) geometry.Vec
	held    func(int) bool // on the shell
}

// mostNotch is the number of sides that a notch has at most.
const mostNotch = 10

// notch returns how many sides from corner i on are a notch, 0 for none.
func notch(e edge, i int) int {
	for k := min(mostNotch, e.corners/2); k >= 2; k-- {
		over := e.at(i + k).Sub(e.at(i))
		if length := over.Norm(); length > 0 && length < smallHole && (e.leavesShell(i, k) || e.dips(i, k)) {
			return k
		}
	}
	return 0
}

// leavesShell reports whether the edge is on the shell at both ends of k sides and nowhere
// between.
func (e edge) leavesShell(i, k int) bool {
	for s := 1; s < k; s++ {
		if e.held(i + s) {
			return false
		}
	}
	return e.held(i) && e.held(i+k)
}

// dips reports whether the edge leaves the straight line over k sides, which goes on from
// the side before and into the side after, by more than a third of it.
func (e edge) dips(i, k int) bool {
	over := e.at(i + k).Sub(e.at(i))
	length := over.Norm()
	over = over.Unit()
	before, after := e.at(i).Sub(e.at(i-1)).Unit(), e.at(i+k+1).Sub(e.at(i+k)).Unit()
	if before.Dot(over) < straight || over.Dot(after) < straight {
		return false
	}
	deep := 0.0
	for s := 1; s < k; s++ {
		d := e.at(i + s).Sub(e.at(i))
		deep = math.Max(deep, d.AddScaled(over, -d.Dot(over)).Norm())
	}
	return deep > 0.3*length && deep < smallHole
}
