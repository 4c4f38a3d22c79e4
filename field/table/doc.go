// Package table tells what thousands of layouts do to the wall, each in a fraction of a
// millisecond. The wall operator is linear, or is made so, and stays the same while rods
// move: its answers to unit point sources on a coarse lattice of nodes are kept. A layout
// is a few point sources, each taken as the sources on the nodes about it that have the same
// multipoles: outside them, and so at the wall, the field is the same.
//
// Points are in the lattice's frame, m; the rods that are asked about in the tank's.
package table
