package plan

import (
	"evenwall/field"
	"evenwall/field/search"
	"evenwall/geometry"
)

// framed is wall in patches, with the way from their frame back to the tank's own.
type framed struct {
	*field.Patches
	back geometry.Rotation
}

// framed returns the basin's own patches.
func (b *Basin) framed() framed { return framed{b.Recovery().Patches, b.Turn.Inverse()} }

// judged returns the wall that layouts are judged on.
func (h *hunt) judged() framed {
	if h.wall == nil {
		return h.coarse.framed()
	}
	return framed{h.wall.Patches, geometry.Identity()}
}

// evaluator answers for it.
func (h *hunt) evaluator() search.Evaluator {
	if h.wall == nil {
		return h.screen
	}
	return &spreading{h.screen, h.way}
}

// areas returns the area of each of its patches, m².
func (h *hunt) areas() []float64 {
	if h.wall == nil {
		return h.coarse.areas()
	}
	return h.wall.areas()
}

// onto returns what its patches get from a solved layout, A/m², and instead where none of the
// layout's own lies.
func (h *hunt) onto(s *Solved, instead []float64) []float64 {
	if h.wall == nil {
		return s.onto(h.coarse, instead)
	}
	return h.wall.from(s.Basin, h.attitude).spread(s.Density)
}
