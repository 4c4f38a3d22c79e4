// Package lattice lays a Cartesian lattice over a tank and says, for every cell
// centre, whether it lies inside, and for every link between two neighbouring
// centres, whether steel cuts it and where. It is the one place of index order.
//
// The lattice stands in the propped frame: z is the plumb line, so that the liquid
// surface is a plane z = constant and falls on a cell face.
package lattice

import (
	"fmt"
	"math"

	"evenwall/geometry"
)

// MaxCells bounds the cells of the box that a lattice may span.
const MaxCells = 1 << 30

// Lattice is a box of cubic cells. Cell (i, j, k) has its centre at
// Origin + H·(i, j, k); i runs fastest in the linear index, k slowest.
type Lattice struct {
	Origin geometry.Vec // centre of cell (0, 0, 0), m
	H      float64      // spacing, m
	N      [3]int       // cells along x, y, z
}

// Placement says where a lattice is laid.
type Placement struct {
	Bounds geometry.Box // what must be covered, m
	Level  float64      // a cell face falls on z = Level, m
	H      float64      // spacing, m
	Shift  [2]float64   // x, y shift in units of H; zero: symmetric about the bounds' centre
}

// New lays a lattice that covers the bounds with at least one cell to spare on each side.
func New(p Placement) (Lattice, error) {
	if !(p.H > 0) || p.Bounds.IsEmpty() {
		return Lattice{}, fmt.Errorf("lattice spacing %g mm over an empty or unbounded box", p.H*1000)
	}
	c, size := p.Bounds.Centre(), p.Bounds.Size()
	half := func(length float64) int { return int(math.Ceil(length/(2*p.H))) + 2 }
	nx, ny := half(size.X), half(size.Y)
	below := int(math.Ceil((p.Level-p.Bounds.Min.Z)/p.H)) + 2
	above := int(math.Ceil((p.Bounds.Max.Z-p.Level)/p.H)) + 2
	n := [3]int{2 * nx, 2 * ny, max(below, 2) + max(above, 2)}
	if float64(n[0])*float64(n[1])*float64(n[2]) > MaxCells {
		return Lattice{}, fmt.Errorf("lattice of %d x %d x %d cells at %g mm is too large: raise the spacing", n[0], n[1], n[2], p.H*1000)
	}
	return Lattice{
		Origin: geometry.Vec{
			X: c.X + (p.Shift[0]-float64(nx)+0.5)*p.H,
			Y: c.Y + (p.Shift[1]-float64(ny)+0.5)*p.H,
			Z: p.Level - (float64(max(below, 2))-0.5)*p.H,
		},
		H: p.H, N: n,
	}, nil
}

// Cells returns the number of cells in the box.
func (l *Lattice) Cells() int { return l.N[0] * l.N[1] * l.N[2] }

// Index returns the linear index of cell (i, j, k).
func (l *Lattice) Index(i, j, k int) int32 { return int32((k*l.N[1]+j)*l.N[0] + i) }

// Coordinates returns i, j, k of a linear index.
func (l *Lattice) Coordinates(index int32) (i, j, k int) {
	row := int(index) / l.N[0]
	return int(index) % l.N[0], row % l.N[1], row / l.N[1]
}

// Centre returns the centre of the cell with that linear index, m.
func (l *Lattice) Centre(index int32) geometry.Vec {
	i, j, k := l.Coordinates(index)
	return l.Origin.Add(geometry.Vec{X: float64(i), Y: float64(j), Z: float64(k)}.Scale(l.H))
}

// Step returns the difference of linear indices between neighbours along axis.
func (l *Lattice) Step(axis int) int32 {
	switch axis {
	case 0:
		return 1
	case 1:
		return int32(l.N[0])
	default:
		return int32(l.N[0] * l.N[1])
	}
}

// At returns p in lattice units: cell centres have whole-numbered coordinates.
func (l *Lattice) At(p geometry.Vec) geometry.Vec { return p.Sub(l.Origin).Scale(1 / l.H) }

// Nearest returns the cell whose centre is nearest to p, and false when p lies
// outside the box.
func (l *Lattice) Nearest(p geometry.Vec) (int32, bool) {
	u := l.At(p)
	i, j, k := int(math.Round(u.X)), int(math.Round(u.Y)), int(math.Round(u.Z))
	if i < 0 || j < 0 || k < 0 || i >= l.N[0] || j >= l.N[1] || k >= l.N[2] {
		return 0, false
	}
	return l.Index(i, j, k), true
}
