// Package field computes the current that each patch of a tank's wall receives from
// rods that hang in the liquid: conduction, div(kappa grad phi) = 0, on the wetted cells
// of a lattice, with the wall and the rods obeying electrode laws.
//
// The wall's metal is at 0 V and current flows from the rods into it, so potentials in
// the liquid are positive. Everything is SI; the frame is the propped one of the lattice
// (z is the plumb line) unless a comment says otherwise.
package field
