package vessel

import (
	"math"
	"slices"

	"evenwall/geometry"
)

// Cells is the inside of a tank in small equal cells, as the search for trapped air needs
// it. Centres are in the propped frame, z along the plumb line.
type Cells interface {
	Len() int
	Centre(cell int32) geometry.Vec              // m
	Neighbours(cell int32, into []int32) []int32 // appended to into: cells that no steel parts from it
	Vent(cell int32) bool                        // open to the outside through an open opening
}

// Pour says how far the liquid is to rise through cells of a size.
type Pour struct {
	Level float64 // z of the surface in the propped frame, m
	Size  float64 // side of a cell, m
}

// Cause says why a part of the inside below the level stays without liquid.
type Cause int

const (
	Trapped   Cause = iota // its air was cut off while the liquid rose
	Sealed                 // nothing leads there from any opening
	Unreached              // the liquid would have to rise above the level to run there
)

// String returns the word that summaries use.
func (c Cause) String() string {
	return [...]string{"trapped", "sealed", "unreached"}[c]
}

// Pocket is one connected part of the inside, below the level, that holds air.
type Pocket struct {
	Cause   Cause
	Surface float64 // z of the liquid under it in the propped frame, m; -Inf without any
	Cells   []int32 // ascending; of trapped and sealed air those above the level too
	Volume  float64 // m³, by cells
	Highest int32   // a cell with the highest centre
}

// Air is what a slow filling leaves dry below the level.
type Air struct {
	Pockets []Pocket // ordered by their first cell
	Pocket  []int32  // by cell: the pocket it belongs to, -1 for none
}

// TrappedAir returns the air that stays in when the tank is filled slowly to the level
// through its open openings. A part whose way to the open air is cut off when the liquid
// has risen to a height s keeps its air down to s: the air is taken as not giving way,
// although 100 mm of liquid above s would press it together by one per cent. A way is cut
// off at the top of the highest layer of cells it runs through, so s is known to half a
// cell, and pockets less than a cell deep are not seen.
func TrappedAir(cells Cells, pour Pour) Air {
	layers := layersOf(cells)
	surface := cutOffs(cells, layers, pour)
	f := flow{cells: cells, pour: pour, surface: surface}
	f.fill()
	return f.air()
}

// layersOf returns the cells in groups of one height, highest first.
func layersOf(cells Cells) [][]int32 {
	order := make([]int32, cells.Len())
	heights := make([]float64, cells.Len())
	for i := range order {
		order[i], heights[i] = int32(i), cells.Centre(int32(i)).Z
	}
	byHeight := func(a, b int32) int {
		switch {
		case heights[a] > heights[b]:
			return -1
		case heights[a] < heights[b]:
			return 1
		default:
			return int(a - b)
		}
	}
	slices.Reverse(order)
	if !slices.IsSortedFunc(order, byHeight) {
		slices.SortFunc(order, byHeight)
	}
	var layers [][]int32
	for from, i := 0, 1; i <= len(order); i++ {
		if i == len(order) || heights[order[from]]-heights[order[i]] > 1e-9 {
			layers = append(layers, order[from:i])
			from = i
		}
	}
	return layers
}

// cutOffs returns for each cell the height at which its air was cut off: +Inf when it
// never was, -Inf when it never had a way out.
func cutOffs(cells Cells, layers [][]int32, pour Pour) []float64 {
	g := newGroups(cells.Len())
	surface := make([]float64, cells.Len())
	for i := range surface {
		surface[i] = math.Inf(1)
	}
	var near []int32
	for _, layer := range layers {
		z := cells.Centre(layer[0]).Z
		for _, c := range layer {
			g.add(c, cells.Vent(c))
		}
		for _, c := range layer {
			near = cells.Neighbours(c, near[:0])
			for _, n := range near {
				if g.in(n) {
					g.join(c, n, func(lost int32) {
						if z < pour.Level && cells.Centre(lost).Z > z+pour.Size/2 {
							surface[lost] = z + pour.Size/2
						}
					})
				}
			}
		}
	}
	for i := range surface {
		if !g.vented[g.root(int32(i))] {
			surface[i] = math.Inf(-1)
		}
	}
	return surface
}

// groups is a union-find over cells that keeps the members of groups without a vent.
type groups struct {
	parent, next, last []int32 // next, last: a list of members from the root on
	vented             []bool  // by root
}

const absent = -1

func newGroups(n int) *groups {
	g := &groups{parent: make([]int32, n), next: make([]int32, n), last: make([]int32, n), vented: make([]bool, n)}
	for i := range g.parent {
		g.parent[i] = absent
	}
	return g
}

func (g *groups) add(c int32, vented bool) {
	g.parent[c], g.next[c], g.last[c], g.vented[c] = c, absent, c, vented
}

func (g *groups) in(c int32) bool { return g.parent[c] != absent }

func (g *groups) root(c int32) int32 {
	for g.parent[c] != c {
		g.parent[c] = g.parent[g.parent[c]]
		c = g.parent[c]
	}
	return c
}

// join makes one group of those of a and b, and calls lost for every member of one
// without a vent that thereby gets one.
func (g *groups) join(a, b int32, lost func(int32)) {
	a, b = g.root(a), g.root(b)
	if a == b {
		return
	}
	if g.vented[b] && !g.vented[a] {
		a, b = b, a
	}
	if g.vented[a] && !g.vented[b] {
		for c := b; c != absent; c = g.next[c] {
			lost(c)
		}
	}
	g.parent[b] = a
	g.next[g.last[a]], g.last[a] = b, g.last[b]
}
