package mend

import (
	"math"

	"evenwall/geometry"
)

// Skin says which face of the steel a surface shows. The zero value is the inner one.
type Skin int

const (
	Inside  Skin = iota // the liquid's side
	Outside             // a scan from outside: the sheet is taken off
)

// Opening is a round opening: a hole at its circle is that opening.
type Opening struct {
	Name string
	Disc geometry.Disc
}

// Settings says what is known of a surface. The zero value is an inside skin without
// openings.
type Settings struct {
	Skin     Skin
	Sheet    float64 // thickness that is taken off an outside skin, m
	Openings []Opening
	Sound    bool // it is known to be one closed piece whose facets agree which side is out
}

const (
	// crackWidth is the widest gap between two facets' sides that counts as a crack, m:
	// corners off by half a millimetre each. Common practice, no source.
	crackWidth = 1.05e-3
	// crackShare keeps cracks small beside the surface, as a share of its diagonal.
	crackShare = 0.004
	// smallHole is the width below which a hole in a sheet, or a loose piece, is a fault
	// of the surface and no part of the tank, m.
	smallHole = 0.012
	// guess is the share of the volume that a closed hole may hide or add before the
	// inside is a guess.
	guess = 0.02
	// bulge is the height of what may stand behind a hole, as a share of its width.
	bulge = 0.125
)

// reachOf returns the widest gap that counts as a crack in m, metres.
func reachOf(m *geometry.Mesh) float64 {
	return math.Min(crackWidth, crackShare*m.Bounds().Size().Norm())
}
