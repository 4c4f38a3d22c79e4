package mend

import (
	"fmt"
	"math"
	"slices"

	"evenwall/geometry"
)

// Report says what was found in a surface and done about it.
type Report struct {
	Doubled   int          // facets lying on another, dropped
	Tees      int          // corners that stood on a side of another facet, which was split there
	Cracks    int          // pairs of sides brought together
	Widest    float64      // widest crack, m
	WidestAt  geometry.Vec // where
	Turned    int          // facets turned to agree with their neighbours
	InsideOut int          // pieces turned over as a whole
	Flaps     int          // facets that stuck out of the surface at a side that two others share, dropped
	Strays    int          // loose pieces dropped
	StrayArea float64      // of all of them, m²
	StrayAt   geometry.Vec // the middle of the largest
	Holes     []Hole       // closed, the widest first
	Skins     float64      // the surface has two skins, this far apart, and the inner one is used; 0: one
	Joined    int          // bodies that overlap the first and were joined with it
	Bodies    int          // solid bodies inside, kept as steel
	Apart     int          // chambers beside the largest, kept
	Sheets    int          // inner sheets found in the surface, spouts counted
	Spouts    []Spout      // tubes that go on inward from a hole in the wall, kept as sheets
	TakenOff  float64      // thickness taken off an outside skin, m

	stray float64 // area of the largest stray, m²
}

func (r *Report) addStray(p *piece) {
	r.Strays++
	r.StrayArea += p.area
	if p.area > r.stray {
		r.stray, r.StrayAt = p.area, p.bounds.Centre()
	}
}

// IsSound reports whether the surface was used as it is.
func (r *Report) IsSound() bool {
	return r.Doubled+r.Tees+r.Cracks+r.Turned+r.InsideOut+r.Flaps+r.Strays+len(r.Holes)+r.Joined+r.Bodies+r.Apart+r.Sheets == 0 && r.Skins == 0
}

// HolesOf returns the holes of one kind.
func (r *Report) HolesOf(kind Kind) []Hole {
	var out []Hole
	for _, h := range r.Holes {
		if h.Kind == kind {
			out = append(out, h)
		}
	}
	return out
}

func (r *Report) sort() {
	slices.SortStableFunc(r.Holes, func(a, b Hole) int {
		switch {
		case a.Across > b.Across:
			return -1
		case a.Across < b.Across:
			return 1
		}
		return 0
	})
}

// GuessError says that a hole hides more of the inside than can be told.
type GuessError struct {
	Hole
	Limit float64 // widest hole that would be closed in a tank of this size, m
}

// Error implements error.
func (e *GuessError) Error() string {
	return fmt.Sprintf("has a hole %.0f mm across at %v, more than the %.0f mm that are closed as wall in a tank of this size: what lies inside there is a guess; scan that side too or close it before exporting, or give it under openings if it is one",
		1000*e.Across, e.Centre, 1000*e.Limit)
}

// trust returns an error when a closed hole may hide or add more than a small share of the volume.
func (w *work) trust() error {
	w.report.sort()
	volume := w.volume()
	limit := math.Cbrt(guess * volume / bulge * 4 / math.Pi)
	for _, h := range w.report.Holes {
		strip := h.Kind == Seam && h.Area <= math.Pi*h.Across*seamGap
		if h.Kind != Filler && !strip && h.Area*h.Across*bulge > guess*volume {
			return &GuessError{h, limit}
		}
	}
	return nil
}
