// Package multigrid solves the discrete conduction problem on the liquid cells of a
// lattice: conjugate gradients in float64, preconditioned by one multigrid V-cycle in
// float32. It knows conductances and cells, nothing of tanks.
//
// Every vector has one guard element at each end: the value of cell n stands at n+1.
// Results are the same to the last bit for any number of goroutines: work is cut into
// fixed blocks, and sums are taken block by block in order.
package multigrid

import "evenwall/geometry/lattice"

// Real is the precision of a vector.
type Real interface{ float32 | float64 }

// Operator is the conductance matrix of a level: symmetric and positive definite as long
// as every connected set of cells has some conductance to the wall. Row n reads
//
//	(A x)_n = Diag_n x_n − sum over the six neighbours m of C_nm x_m
//
// with Diag the sum of all conductances of the cell, the one to the wall included.
type Operator struct {
	Cells *lattice.Numbering
	Ahead [3][]float32 // conductance to the neighbour ahead along x, y, z, S; guarded; 0: none
	Wall  []float32    // conductance to the wall, S; guarded
	Diag  []float32    // guarded; set with Wall
	// Inverse is 1 over Diag.
	Inverse []float32

	back        [2][]float32 // conductance to the neighbour behind along y, z; guarded; set by arrange
	unit, under float32      // conductance of the links of plain cells, and one over six of them
	all, rim    swath        // all cells, and those in the two layers next to the wall
}

// NewOperator returns an operator without conductances on the given cells.
func NewOperator(cells *lattice.Numbering) *Operator {
	a := &Operator{Cells: cells}
	for axis := range a.Ahead {
		a.Ahead[axis] = make([]float32, cells.Len()+2)
	}
	a.Wall, a.Diag, a.Inverse = make([]float32, cells.Len()+2), make([]float32, cells.Len()+2), make([]float32, cells.Len()+2)
	for axis := range a.back {
		a.back[axis] = make([]float32, cells.Len()+2)
	}
	return a
}

// Len returns the number of cells.
func (a *Operator) Len() int { return a.Cells.Len() }

// sum sets the diagonal from the conductances. A cell without any gets 1, so that it
// keeps the value zero.
func (a *Operator) sum() {
	each(len(a.all.parts), func(p int) {
		for n := a.all.parts[p].first; n < a.all.parts[p].end; n++ {
			d := a.Wall[n]
			for _, c := range a.beside(n) {
				d += c
			}
			if d == 0 {
				d = 1
			}
			a.Diag[n], a.Inverse[n] = d, 1/d
		}
	})
	a.all.fill(a)
	a.rim.fill(a)
}

// beside returns the conductances of guarded cell n to its six neighbours, −x +x −y +y −z +z.
func (a *Operator) beside(n int32) [6]float32 {
	return [6]float32{a.Ahead[0][n-1], a.Ahead[0][n], a.back[0][n], a.Ahead[1][n], a.back[1][n], a.Ahead[2][n]}
}
