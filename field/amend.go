package field

import (
	"cmp"
	"math"
	"slices"
)

// Where steel is thinner than the lattice and ends in an edge, as a filler's spout does, the fit
// of the recovery sees too little and may be off by a multiple: there the patches are held to
// what the wall links about them carry. Scaling all wall instead would spread that over it.
const (
	closes    = 0.03  // how far from 1 the closure must be for blocks to be looked at
	blockSide = 5.0   // side of the cubes that patches and links are summed over, spacings
	astray    = 0.3   // share by which the sums of a block must differ for it to be amended
	mattering = 0.001 // and share of all current
	absurd    = 4.0   // times the greatest density of wide blocks that a block without links is believed
	wide      = 2.5   // and side of a square of its area, spacings: sums of a few links are noise
	outOfHand = 2.0   // factor beyond which its patches get the block's mean
)

// blockKey names a cube of space and the way that wall in it faces.
type blockKey struct {
	x, y, z int32
	facing  int8
}

// block is the wall of a cube.
type block struct {
	area            float64 // m²
	fitted, carried float64 // current into it by the patches and by the links, A
	astray          bool    // its patches are amended
}

// atRim is the factor that patches at the rims of openings may be amended by: what is missing
// there is the crowding of current to the edge, which the fit does not follow.
const (
	atRim   = 1.8
	missing = 0.01 // share of all current that must be missing for it to be looked for there
)

// amend scales the patches' densities j to the current that the links carry and returns the
// closure, their sum before that over the links'. Where more is missing than a hundredth it is given
// to the patches at rims, if these can be what it is missing from; else all are scaled alike. Where it is far from 1 the patches of blocks
// that are astray are brought to what their links carry, and all others by one factor to the
// rest.
func (s *solver) amend(j []float64, r *Recovery) (closure float64) {
	all := block{carried: s.intoWall(func(c *contact) bool { return c.held == nil })}
	for i, p := range r.Patches.All {
		all.fitted += j[i] * p.Area
	}
	if all.fitted == 0 || all.carried == 0 {
		return 1
	}
	if s.amendRims(j, r, &all) {
		return all.fitted / all.carried
	}
	rest, blocks := all, []*block(nil)
	if closure = all.fitted / all.carried; math.Abs(closure-1) > closes {
		var list []*block
		list, blocks = s.blocks(j, r)
		rest = marked(list, all, math.Pow(wide*r.Patches.H, 2))
	}
	if blocks == nil || !(rest.fitted > 0 && rest.carried > 0) {
		scale(j, 1/closure)
		return closure
	}
	for i := range j {
		switch b := blocks[i]; {
		case !b.astray:
			j[i] *= rest.carried / rest.fitted
		case b.carried < outOfHand*b.fitted && b.fitted < outOfHand*b.carried:
			j[i] *= b.carried / b.fitted
		default:
			j[i] = b.carried / b.area
		}
	}
	return closure
}

// amendRims scales the patches at rims alone, where that closes the sum, and reports whether
// it does.
func (s *solver) amendRims(j []float64, r *Recovery, all *block) bool {
	rims := 0.0
	for i, p := range r.Patches.All {
		if r.rim[i] {
			rims += j[i] * p.Area
		}
	}
	factor := 1 + (all.carried-all.fitted)/rims
	if !(rims > 0 && all.carried-all.fitted > missing*all.carried && factor < atRim) {
		return false
	}
	for i := range j {
		if r.rim[i] {
			j[i] *= factor
		}
	}
	return true
}

// marked marks the blocks that are astray, of least area so and so, m², or a crumb of wall whose
// fit is absurd, either way, and of which no link tells or few do, and returns what the others have of all.
func marked(list []*block, all block, least float64) (rest block) {
	usual, most := usualOf(list), 0.0
	for _, b := range list {
		if b.area > least {
			most = math.Max(most, b.carried/b.area)
		}
	}
	rest = all
	for _, b := range list {
		b.astray = b.area > least && b.isAstray(usual, all.carried)
		if most > 0 && b.area <= least && math.Abs(b.fitted) > absurd*math.Max(b.carried, most*b.area) {
			b.astray = true
		}
		if b.carried <= 0 && most > 0 && math.Abs(b.fitted) > absurd*most*b.area {
			b.astray, b.carried = true, most*b.area
		}
		if b.astray {
			rest.fitted -= b.fitted
			rest.carried -= b.carried
		}
	}
	return rest
}

// blocks returns the blocks of wall in the order of their first patches, and each patch's.
func (s *solver) blocks(j []float64, r *Recovery) (list, of []*block) {
	known := map[blockKey]*block{}
	of = make([]*block, len(j))
	for i, p := range r.Patches.All {
		k := keyOf(p.Centre, p.Normal, blockSide*r.Patches.H/patchBin, false)
		key := blockKey{k.x, k.y, k.z, k.facing}
		b := known[key]
		if b == nil {
			b = &block{}
			known[key] = b
			list = append(list, b)
		}
		b.area += p.Area
		b.fitted += j[i] * p.Area
		of[i] = b
	}
	finder := r.Patches.Finder()
	s.eachInto(func(c *contact, current float64) {
		if c.held != nil {
			return
		}
		if i, ok := s.patchOf(finder, c); ok {
			of[i].carried += current
		}
	})
	return list, of
}

// usualOf returns the ratio of carried to fitted current that the blocks of half of all current
// stay under: what the links stand for may differ from the patches as a whole.
func usualOf(list []*block) float64 {
	sorted := slices.DeleteFunc(slices.Clone(list), func(b *block) bool { return !(b.carried > 0 && b.fitted > 0) })
	slices.SortStableFunc(sorted, func(a, b *block) int { return cmp.Compare(a.carried*b.fitted, b.carried*a.fitted) })
	whole, sum := 0.0, 0.0
	for _, b := range sorted {
		whole += b.carried
	}
	for _, b := range sorted {
		if sum += b.carried; 2*sum >= whole {
			return b.carried / b.fitted
		}
	}
	return 1
}

// isAstray reports whether a block's patches are to be amended: usual is the ratio of carried
// to fitted that most have, all the whole current, A.
func (b *block) isAstray(usual, all float64) bool {
	off := math.Abs(usual*b.fitted - b.carried)
	return b.carried > 0 && off > astray*math.Max(usual*b.fitted, b.carried) && off > mattering*all
}

// patchOf returns the patch that a link's wall lies in.
func (s *solver) patchOf(f *Finder, c *contact) (int32, bool) {
	ahead := c.link.Direction()
	at := s.Liquid.Point(c.link.Cell).AddScaled(ahead, c.link.Theta*s.Liquid.Lattice.H)
	normal := ahead
	if s.Normal != nil && c.link.Face >= 0 {
		if normal = s.Normal(c.link.Face); normal.Dot(ahead) < 0 {
			normal = normal.Scale(-1)
		}
	}
	return f.Nearest(at, normal)
}
