package mend

import (
	"cmp"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

const (
	// teeShare is how near a corner lies to a side that it stands on, as a share of a crack.
	teeShare = 0.02
	// mostTees bounds the open sides among which corners on sides are looked for: with more
	// the surface is a heap of loose facets, and every corner stands on some side.
	mostTees = 60_000
	// teeRounds is how often: a facet is split at one of its sides at a time.
	teeRounds = 3
	// teeStep is the length by which a side is walked to find the corners on it, m, and
	// teeSteps the most steps that the surface's diagonal takes.
	teeStep  = 0.004
	teeSteps = 256
)

// splitAtTees splits the facets on whose open side corners of other open sides stand, so
// that both have the same corners there: surfaces meshed part by part, or cut up.
func (w *work) splitAtTees() {
	if open := topology.FaultsOf(w.edges).Open; open == 0 || open > mostTees {
		return
	}
	corners, index := openCorners(&w.mesh, w.edges)
	drop := make([]bool, len(w.mesh.Faces))
	var added [][3]int32
	for _, e := range w.edges {
		if !e.IsOpen() || drop[e.Uses[0].Face] {
			continue
		}
		if on := w.cornersOn(e, corners, index); len(on) > 0 {
			face := e.Uses[0].Face
			drop[face] = true
			added = append(added, fanned(w.mesh.Faces[face], e, on)...)
			w.report.Tees += len(on)
		}
	}
	if len(added) == 0 {
		return
	}
	w.mesh = geometry.Mesh{Vertices: w.mesh.Vertices, Faces: append(without(w.mesh.Faces, drop), added...)}
	w.edges = topology.Edges(&w.mesh)
}

// openCorners files the corners of all open sides.
func openCorners(m *geometry.Mesh, edges []topology.Edge) ([]int32, *bins) {
	seen := make([]bool, len(m.Vertices))
	var corners []int32
	index := newBins(max(teeStep, m.Bounds().Size().Norm()/teeSteps))
	for _, e := range edges {
		for _, v := range [2]int32{e.A, e.B} {
			if e.IsOpen() && !seen[v] {
				seen[v] = true
				corners = append(corners, v)
				index.add(m.Vertices[v])
			}
		}
	}
	return corners, index
}

// cornersOn returns the corners that stand on an edge, from its A to its B.
func (w *work) cornersOn(e topology.Edge, corners []int32, index *bins) []int32 {
	a, b := w.mesh.Vertices[e.A], w.mesh.Vertices[e.B]
	length, near := a.Dist(b), teeShare*w.reach
	along := b.Sub(a).Unit()
	type stand struct {
		corner int32
		at     float64 // m from A
	}
	var on []stand
	step := index.side
	for s := step / 2; s < length+step/2; s += step {
		index.within(a.AddScaled(along, s), step, func(i int32) {
			v := corners[i]
			d := w.mesh.Vertices[v].Sub(a)
			at := d.Dot(along)
			if v == e.A || v == e.B || at < w.reach || at > length-w.reach || d.AddScaled(along, -at).Norm() > near {
				return
			}
			if !slices.ContainsFunc(on, func(o stand) bool { return o.corner == v }) {
				on = append(on, stand{v, at})
			}
		})
	}
	slices.SortFunc(on, func(p, q stand) int { return cmp.Compare(p.at, q.at) })
	out := make([]int32, len(on))
	for i, o := range on {
		out[i] = o.corner
	}
	return out
}

// fanned returns the facets that a facet is split into at corners on one of its sides.
func fanned(f [3]int32, e topology.Edge, on []int32) [][3]int32 {
	k := 0
	for f[k] != e.A && f[k] != e.B || f[(k+1)%3] != e.A && f[(k+1)%3] != e.B {
		k++
	}
	from, to, apex := f[k], f[(k+1)%3], f[(k+2)%3]
	if from != e.A {
		on = slices.Clone(on)
		slices.Reverse(on)
	}
	var out [][3]int32
	for _, v := range append(slices.Clone(on), to) {
		if v != apex {
			out = append(out, [3]int32{from, v, apex})
			from = v
		}
	}
	return out
}
