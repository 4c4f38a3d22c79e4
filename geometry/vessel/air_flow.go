package vessel

import (
	"math"
	"slices"
)

// flow follows the liquid from the openings down and up again to the level.
type flow struct {
	cells   Cells
	pour    Pour
	surface []float64 // by cell, see cutOffs
	wet     []bool
	near    []int32
}

// holdsAir reports whether a cell lies in air that was cut off.
func (f *flow) holdsAir(c int32) bool { return !math.IsInf(f.surface[c], 1) }

// fill finds the wet cells: what the liquid runs to from the openings, and all that is
// joined to it below the level.
func (f *flow) fill() {
	f.wet = make([]bool, f.cells.Len())
	var pools []int32
	for _, c := range f.landings() {
		if f.cells.Centre(c).Z < f.pour.Level && !f.wet[c] {
			f.wet[c] = true
			pools = append(pools, c)
		}
	}
	for len(pools) > 0 {
		c := pools[len(pools)-1]
		pools = pools[:len(pools)-1]
		f.near = f.cells.Neighbours(c, f.near[:0])
		for _, n := range f.near {
			if !f.wet[n] && !f.holdsAir(n) && f.cells.Centre(n).Z < f.pour.Level {
				f.wet[n] = true
				pools = append(pools, n)
			}
		}
	}
}

// landings returns the cells that liquid poured in at the openings runs over: down
// wherever it can, and along the level only where it cannot.
func (f *flow) landings() []int32 {
	seen := make([]bool, f.cells.Len())
	var run []int32
	for i := range seen {
		if f.cells.Vent(int32(i)) {
			seen[i] = true
			run = append(run, int32(i))
		}
	}
	for k := 0; k < len(run); k++ {
		z := f.cells.Centre(run[k]).Z
		f.near = f.cells.Neighbours(run[k], f.near[:0])
		falls := false
		for _, n := range f.near {
			falls = falls || f.cells.Centre(n).Z < z-f.pour.Size/2
		}
		for _, n := range f.near {
			dz := f.cells.Centre(n).Z - z
			if !seen[n] && !f.holdsAir(n) && dz < f.pour.Size/2 && (!falls || dz < -f.pour.Size/2) {
				seen[n] = true
				run = append(run, n)
			}
		}
	}
	return run
}

// state is how a cell counts among its neighbours.
type state int

const (
	notDry   state = iota // liquid, or open air above the level
	cutOff                // air cut off from the vents
	shutIn                // never joined to a vent
	unfilled              // below the level, but no liquid runs there
)

func (f *flow) state(c int32) state {
	switch {
	case math.IsInf(f.surface[c], -1):
		return shutIn
	case f.holdsAir(c):
		return cutOff
	case !f.wet[c] && f.cells.Centre(c).Z < f.pour.Level:
		return unfilled
	default:
		return notDry
	}
}

// air gathers the dry cells into pockets. Air cut off where there is no liquid to do so
// is opened again first.
func (f *flow) air() Air {
	air := Air{Pocket: make([]int32, f.cells.Len())}
	f.reset(air.Pocket)
	for i := range air.Pocket {
		if air.Pocket[i] < 0 && f.state(int32(i)) == cutOff {
			cells, touchesWet := f.gather(int32(i), air.Pocket, 0)
			for _, c := range cells {
				if !touchesWet {
					f.surface[c] = math.Inf(1)
				}
			}
		}
	}
	f.reset(air.Pocket)
	for i := range air.Pocket {
		if air.Pocket[i] >= 0 || f.state(int32(i)) == notDry {
			continue
		}
		number := int32(len(air.Pockets))
		cells, _ := f.gather(int32(i), air.Pocket, number)
		air.Pockets = append(air.Pockets, f.pocketOf(cells))
	}
	return air.without(f)
}

func (f *flow) reset(pocket []int32) {
	for i := range pocket {
		pocket[i] = -1
	}
}

// gather marks the cells of one state that are joined to c, and reports whether liquid
// touches them.
func (f *flow) gather(c int32, pocket []int32, number int32) (cells []int32, touchesWet bool) {
	state, stack := f.state(c), []int32{c}
	pocket[c] = number
	for len(stack) > 0 {
		c := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		cells = append(cells, c)
		f.near = f.cells.Neighbours(c, f.near[:0])
		for _, n := range f.near {
			touchesWet = touchesWet || f.wet[n]
			if pocket[n] < 0 && f.state(n) == state {
				pocket[n] = number
				stack = append(stack, n)
			}
		}
	}
	slices.Sort(cells)
	return cells, touchesWet
}

// pocketOf describes the cells of one pocket.
func (f *flow) pocketOf(cells []int32) Pocket {
	cause := map[state]Cause{cutOff: Trapped, shutIn: Sealed, unfilled: Unreached}[f.state(cells[0])]
	p := Pocket{Cause: cause, Surface: math.Inf(-1), Cells: cells, Highest: cells[0]}
	p.Volume = float64(len(cells)) * f.pour.Size * f.pour.Size * f.pour.Size
	for _, c := range cells {
		if f.cells.Centre(c).Z > f.cells.Centre(p.Highest).Z {
			p.Highest = c
		}
	}
	if cause == Trapped {
		p.Surface = f.surface[cells[0]]
	}
	return p
}

// without drops the pockets that have no cell below the level.
func (a Air) without(f *flow) Air {
	out := Air{Pocket: a.Pocket}
	f.reset(out.Pocket)
	for _, p := range a.Pockets {
		lies := func(c int32) bool { return f.cells.Centre(c).Z < f.pour.Level }
		if !slices.ContainsFunc(p.Cells, lies) {
			continue
		}
		for _, c := range p.Cells {
			out.Pocket[c] = int32(len(out.Pockets))
		}
		out.Pockets = append(out.Pockets, p)
	}
	return out
}
