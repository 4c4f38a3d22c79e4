// Package openings finds the round openings of a tank's surface: nobody knows the
// coordinates of a filler in a scan.
package openings

import (
	"cmp"
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Kind is how an opening shows in the surface.
type Kind int

// The kinds, the most certain first.
const (
	Hole    Kind = iota // the surface is open there
	Lid                 // a flat disc with a crisp edge, such as the end of a neck
	Imprint             // a circle drawn by the facets' sides in a flat wall
)

// String returns the kind in plain words.
func (k Kind) String() string {
	switch k {
	case Hole:
		return "hole"
	case Lid:
		return "lid"
	default:
		return "circle in a flat wall"
	}
}

// Ring is a round opening by its rim.
type Ring struct {
	Kind     Kind
	Centre   geometry.Vec // m
	Axis     geometry.Vec // unit, outward
	Diameter float64      // m
	RMS      float64      // of the rim's distance from the circle, m
	Points   int          // corners of the surface on the rim
}

// What counts as a round opening; common practice, no source.
const (
	leastDiameter = 0.008 // m
	mostDiameter  = 0.200 // m
	// A square hole strays by 0.13 radii from its best circle, a torn edge with facets
	// of a tenth of the diameter by 0.04.
	holeStray    = 0.07  // rms over radius
	lidStray     = 0.02  // rms over radius
	imprintStray = 0.002 // rms over radius
	holePoints   = 10    // at least; smaller holes are lost facets
	lidPoints    = 12    // at least
	imprintLeast = 16    // points, at least
	widestGap    = 50.0  // degrees of the circle without a corner, at most
	crisp        = 20.0  // degrees, the least fold at a lid's edge
	crispShare   = 0.8   // of a lid's edge that must be crisp
	fullDisc     = 0.85  // of the circle's area that a lid must fill
)

// Find returns the round openings of m with diameters from 8 to 200 mm: open rims that
// are nearly circles, flat discs with a crisp edge, and circles drawn in flat walls.
// Holes come first, then lids, then imprints, each from the largest to the smallest.
//
// Axes point out of the surface as most facets at the rim are turned; for a closed
// surface that is turned inside out they are turned back.
func Find(m *geometry.Mesh) []Ring {
	edges := topology.Edges(m)
	rings := holes(m, edges)
	regions := flatRegions(m, edges)
	rings = append(rings, lids(m, edges, regions)...)
	rings = append(rings, imprints(m, edges, regions)...)
	if m.Volume() < 0 && len(topology.Loops(edges)) == 0 {
		for i := range rings {
			rings[i].Axis = rings[i].Axis.Scale(-1)
		}
	}
	slices.SortStableFunc(rings, func(a, b Ring) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(b.Diameter, a.Diameter))
	})
	return distinct(rings)
}

func fits(diameter float64) bool { return diameter >= leastDiameter && diameter <= mostDiameter }

// distinct drops rings that lie on one listed before.
func distinct(rings []Ring) []Ring {
	var out []Ring
	for _, r := range rings {
		if !slices.ContainsFunc(out, func(o Ring) bool { return same(o, r) }) {
			out = append(out, r)
		}
	}
	return out
}

func same(a, b Ring) bool {
	near := 0.02 * a.Diameter
	return a.Centre.Dist(b.Centre) < near && math.Abs(a.Diameter-b.Diameter) < near && math.Abs(a.Axis.Dot(b.Axis)) > 0.99
}
