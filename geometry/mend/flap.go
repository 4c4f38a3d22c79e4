package mend

import (
	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// flapRounds is how often flaps are looked for: taking one away can make the next.
const flapRounds = 6

// dropFlaps takes away what hangs on the surface by a side that two other facets share
// already: small bits are dropped, larger ones are inner sheets.
func (w *work) dropFlaps() {
	for range flapRounds {
		parts := smoothParts(&w.mesh, w.edges)
		hanging := w.hanging(parts)
		if len(hanging) == 0 {
			return
		}
		drop := make([]bool, len(w.mesh.Faces))
		for _, i := range hanging {
			p := &parts[i]
			for _, f := range p.faces {
				drop[f] = true
			}
			if p.bounds.Size().Norm() < smallHole || p.area < strayShare*w.mesh.Area() {
				w.report.Flaps += len(p.faces)
			} else {
				w.sheets = append(w.sheets, p.mesh(&w.mesh))
			}
		}
		w.mesh = compact(geometry.Mesh{Vertices: w.mesh.Vertices, Faces: without(w.mesh.Faces, drop)})
		w.edges = topology.Edges(&w.mesh)
		if topology.FaultsOf(w.edges).Crowded == 0 {
			return
		}
	}
}

// smoothParts parts m where more than two facets meet.
func smoothParts(m *geometry.Mesh, edges []topology.Edge) []piece {
	var shared []topology.Edge
	for _, e := range edges {
		if !e.IsCrowded() {
			shared = append(shared, e)
		}
	}
	return piecesOf(m, shared)
}

// hanging returns the parts that hang on a crowded side, have an open one, and are not the
// largest at any of the crowded ones. Where a crowded side has none such, the smallest part
// goes if it is a mere speck.
func (w *work) hanging(parts []piece) []int {
	of := make([]int, len(w.mesh.Faces))
	for i := range parts {
		for _, f := range parts[i].faces {
			of[f] = i
		}
	}
	chosen := map[int]bool{}
	for _, e := range w.edges {
		if !e.IsCrowded() {
			continue
		}
		least, most := -1, -1
		for _, u := range e.Uses {
			p := of[u.Face]
			if most < 0 || parts[p].area > parts[most].area {
				most = p
			}
		}
		for _, u := range e.Uses {
			if p := of[u.Face]; p != most && (least < 0 || parts[p].area < parts[least].area) {
				if !parts[p].closed || parts[p].bounds.Size().Norm() < smallHole {
					least = p
				}
			}
		}
		if least >= 0 {
			chosen[least] = true
		}
	}
	var out []int
	for i := range parts {
		if chosen[i] {
			out = append(out, i)
		}
	}
	return out
}
