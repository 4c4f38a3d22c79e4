package mend

import (
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

const (
	// seamGap is the widest gap between two pieces that is closed by a strip, m. Common
	// practice, no source.
	seamGap = 0.006
	// seamShare is the share of a rim that must run that near to the other.
	seamShare = 0.6
	// crackedShare is the share of two rims of one piece that must run within four
	// cracks of each other, and crackedLeast the least width of such a rim, m.
	crackedShare = 0.8
	crackedLeast = 2 * smallHole
	// seamCorners is the least number of corners of a rim at a seam.
	seamCorners = 6
)

// closeSeams joins pieces whose rims run beside each other all the way, as the halves of a
// scan do, by a strip between the rims.
func (w *work) closeSeams() {
	for range mostPieces {
		of, _ := topology.Shells(w.edges, len(w.mesh.Faces))
		if !w.closeSeam(of) {
			return
		}
	}
}

// rim is a loop of open sides with the piece that it bounds.
type rim struct {
	loop  []int32
	piece int32
}

// closeSeam closes one seam, the longest, and reports whether there was one.
func (w *work) closeSeam(of []int32) bool {
	rims := w.rims(of)
	for i, long := range rims {
		index := newBins(seamGap)
		for _, v := range long.loop {
			index.add(w.mesh.Vertices[v])
		}
		for _, short := range rims[i+1:] {
			gap, least := seamGap, seamShare
			if short.piece == long.piece { // a crack all round that facets bridge somewhere
				if gap, least = 4*w.reach, crackedShare; across(&w.mesh, short.loop) < crackedLeast {
					continue
				}
			}
			if share, a, b := w.beside(index, short.loop, gap); share >= least && w.strip(long.loop, short.loop, int(a), b) {
				return true
			}
		}
	}
	return false
}

// rims lists the loops that a seam may run along, the longest first.
func (w *work) rims(of []int32) []rim {
	piece := make([]int32, len(w.mesh.Vertices))
	for f, face := range w.mesh.Faces {
		for _, v := range face {
			piece[v] = of[f]
		}
	}
	var out []rim
	for _, loop := range loopsOf(w.edges) {
		if len(loop) >= seamCorners {
			slices.Reverse(loop)
			out = append(out, rim{loop, piece[loop[0]]})
		}
	}
	slices.SortStableFunc(out, func(p, q rim) int { return len(q.loop) - len(p.loop) })
	return out
}

// beside returns the share of a loop's corners that lie within a gap, m, of the indexed
// loop, and the places of the nearest two corners: in the indexed loop and in this one.
func (w *work) beside(index *bins, loop []int32, gap float64) (share float64, a int32, b int) {
	near, best := 0, 2*gap
	for i, v := range loop {
		p, found := w.mesh.Vertices[v], false
		index.within(p, gap, func(k int32) {
			found = true
			if d := index.points[k].Dist(p); d < best {
				best, a, b = d, k, i
			}
		})
		if found {
			near++
		}
	}
	return float64(near) / float64(len(loop)), a, b
}

// strip fills the band between two loops from place a of the first and place b of the
// second on. Which way round the second goes beside the first is told by the area that it
// takes. Facets are turned alike afterwards. It reports false where nothing is left to fill.
func (w *work) strip(first, second []int32, a, b int) bool {
	first = slices.Concat(first[a:], first[:a+1])
	along := slices.Concat(second[b:], second[:b+1])
	against := slices.Clone(along)
	slices.Reverse(against)
	faces, area := w.zip(first, against)
	if others, less := w.zip(first, along); less < area {
		faces, area = others, less
	}
	if len(faces) == 0 {
		return false
	}
	w.report.Holes = append(w.report.Holes, Hole{Kind: Seam, Centre: middle(&w.mesh, first), Across: across(&w.mesh, first), Area: area})
	w.mesh = geometry.Mesh{Vertices: w.mesh.Vertices, Faces: slices.Concat(w.mesh.Faces, faces)}
	w.edges = topology.Edges(&w.mesh)
	_, w.edges = turnAlike(&w.mesh, w.edges)
	return true
}

// mostZip bounds the work and memory of zip, in pairs of corners.
const mostZip = 4 << 20

// stride fills the band between two long walks that run beside each other: each facet takes
// one walk a side on, the one whose next corner is nearer to where the other has come to.
func (w *work) stride(p, q []int32) (faces [][3]int32, area float64) {
	at := w.mesh.Vertices
	for i, k := 0, 0; i+1 < len(p) || k+1 < len(q); {
		onP := k+1 == len(q) || i+1 < len(p) && at[p[i+1]].Dist(at[q[k]]) <= at[p[i]].Dist(at[q[k+1]])
		f := [3]int32{p[i], q[min(k+1, len(q)-1)], q[k]}
		if onP {
			f = [3]int32{p[i], p[i+1], q[k]}
			i++
		} else {
			k++
		}
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			faces = append(faces, f)
			area += geometry.Triangle{A: at[f[0]], B: at[f[1]], C: at[f[2]]}.Area()
		}
	}
	return faces, area
}

// zip fills the band between two walks that run beside each other with the least area: each
// facet takes one walk a side on. Walks that are too long for that are taken in stride.
// Fuchs, Kedem & Uselton (1977), from memory.
func (w *work) zip(p, q []int32) (faces [][3]int32, area float64) {
	at, width := w.mesh.Vertices, len(q)
	if len(p)*width > mostZip {
		return w.stride(p, q)
	}
	cost, first := make([]float32, len(p)*width), make([]bool, len(p)*width)
	size := func(a, b, c int32) float32 { return float32(geometry.Triangle{A: at[a], B: at[b], C: at[c]}.Area()) }
	for i := range p {
		for k := range q {
			here := i*width + k
			least := float32(math.Inf(1))
			if i > 0 {
				least, first[here] = cost[here-width]+size(p[i-1], p[i], q[k]), true
			}
			if k > 0 {
				if c := cost[here-1] + size(p[i], q[k], q[k-1]); c < least {
					least, first[here] = c, false
				}
			}
			if here > 0 {
				cost[here] = least
			}
		}
	}
	for i, k := len(p)-1, width-1; i+k > 0; {
		f := [3]int32{p[i], q[k], q[max(k-1, 0)]}
		if first[i*width+k] {
			f = [3]int32{p[max(i-1, 0)], p[i], q[k]}
			i--
		} else {
			k--
		}
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			faces = append(faces, f)
		}
	}
	return faces, float64(cost[len(cost)-1])
}
