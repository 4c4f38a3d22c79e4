// Package mend makes a sound inside skin of a tank's surface as it comes: cracked, with
// holes, with facets flipped, doubled or lost, in several pieces, with two skins, or
// scanned from outside. It says what it found and what it did; the mesh that it is given
// is never changed.
//
// The order of the work: doubled facets out, cracks joined, facets turned to agree, stray
// pieces out, holes closed, every piece turned outward by its own volume, skins and bodies
// told apart, overlapping bodies joined. A sound surface goes through unchanged.
package mend
