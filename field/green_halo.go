package field

import (
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// halo is the cells round a point source that carry the potential less the source's own.
type halo struct {
	at     geometry.Vec
	mirror geometry.Vec // the source's image in the liquid's surface
	h      float64
	kappa  float64
	cells  []int32
	g      []float64 // the source's own potential there, V/A
	first  [3]int    // coordinates of the source
	top    int       // of the layers of cells: the sum of a cell's and its image's
	pushes []push
}

// push is the current put into a cell.
type push struct {
	at      [3]int
	current float64
}

// selfLattice is kappa h times the potential of unit current at its own point of a cubic
// lattice without end (Watson 1939: 0.2527310098).
const selfLattice = 0.2527310098

// potential returns the source's own potential and its image's, V/A.
func (b *halo) potential(p geometry.Vec) float64 {
	v := 1 / (4 * math.Pi * p.Dist(b.mirror))
	if d := p.Dist(b.at); d < b.h/2 {
		v += selfLattice / b.h
	} else {
		v += 1 / (4 * math.Pi * d)
	}
	return v / b.kappa
}

// How far halos go from a source's cell along each axis, in spacings: one about a cell's
// centre is exact for a lattice without end, a wide one for any source, to about a part in a
// thousand.
const (
	narrowHalo = 1
	wideHalo   = 3
)

// around returns the halo of a source in a cell: those of the cells about it, as far as wide
// along each axis, that only links wholly open join to it and that no wall link starts at.
func (g *Green) around(source int32, at geometry.Vec, wide float64) *halo {
	q := g.problem.Liquid
	b := &halo{at: at, h: q.Lattice.H, kappa: g.problem.Conductivity, cells: []int32{source}}
	centre := q.Point(source)
	b.mirror = b.at.WithAxis(2, 2*g.problem.Level-b.at.Z)
	b.first = coordinates(&q.Lattice, q.Keys[source])
	b.top = int(math.Round(2 * (g.problem.Level - q.Lattice.Origin.Z) / b.h))
	for next := 0; next < len(b.cells); next++ {
		q.EachOpen(b.cells[next], func(m int32, _ int, open float64) {
			d := q.Point(m).Sub(centre)
			far := math.Max(math.Abs(d.X), math.Max(math.Abs(d.Y), math.Abs(d.Z)))
			if far < (wide+0.5)*b.h && open == 1 && !g.walled[m] && !slices.Contains(b.cells, m) {
				b.cells = append(b.cells, m)
			}
		})
	}
	for _, cell := range b.cells {
		b.g = append(b.g, b.potential(q.Point(cell)))
	}
	return b
}

func coordinates(l *lattice.Lattice, key int32) (c [3]int) {
	c[0], c[1], c[2] = l.Coordinates(key)
	return c
}

// push sets a lane's right-hand side: the source's current through the halo's faces,
// scaled so that it adds up to 1, and the change of unknown across them.
func (b *halo) push(s *PointSolver, lane int) {
	total := 0.0
	b.eachFace(s.Green, func(_, _ int32, link, in, out float64) { total += link * (in - out) })
	put := func(cell int32, current float64) {
		s.b[cell+1][lane] += float32(current)
		b.pushes = append(b.pushes, push{coordinates(&s.problem.Liquid.Lattice, s.problem.Liquid.Keys[cell]), current})
	}
	b.eachFace(s.Green, func(inner, outer int32, link, in, out float64) {
		put(inner, -link*out)
		put(outer, link*(in-out)/total+link*out)
	})
}

// nearby is how far from a source, in spacings along each axis, the currents put into the
// cells are reckoned with one by one.
const nearby = 7

// without returns kappa times what the solver's vector would hold at a cell if the lattice
// went on without end under the surface and its image: what is left of the vector is the
// walls' answer, free of the lattice's own error about a point source.
func (b *halo) without(g *Green, cell int32) float64 {
	at := coordinates(&g.problem.Liquid.Lattice, g.problem.Liquid.Keys[cell])
	mirrored := [3]int{at[0], at[1], b.top - at[2]}
	if d := minus(at, b.first); max(d[0], -d[0], d[1], -d[1], d[2], -d[2]) > nearby {
		return (farOff(d) + farOff(minus(mirrored, b.first))) / b.h
	}
	sum := 0.0
	for _, p := range b.pushes {
		sum += p.current * (g.endless.at(minus(at, p.at)) + g.endless.at(minus(mirrored, p.at)))
	}
	return sum / b.h
}

func minus(a, b [3]int) [3]int { return [3]int{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// eachFace visits the links that leave the halo with their conductance and the source's
// potential at both ends.
func (b *halo) eachFace(g *Green, visit func(inner, outer int32, link, in, out float64)) {
	q := g.problem.Liquid
	for i, cell := range b.cells {
		q.EachOpen(cell, func(m int32, _ int, open float64) {
			if !slices.Contains(b.cells, m) {
				visit(cell, m, g.link*open, b.g[i], b.potential(q.Point(m)))
			}
		})
	}
}
