package vessel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
)

// grid is a raster of cells for the tests: inside, steel between two cells, and vents are
// said by functions of the centres.
type grid struct {
	size   float64
	n      [3]int
	turn   geometry.Rotation
	number []int32 // by raster place, -1 outside
	places [][3]int
	vent   func(p geometry.Vec) bool
	parted func(p, q geometry.Vec) bool
}

func newGrid(size float64, n [3]int, inside func(p geometry.Vec) bool) *grid {
	g := &grid{
		size: size, n: n, number: make([]int32, n[0]*n[1]*n[2]),
		vent:   func(geometry.Vec) bool { return false },
		parted: func(_, _ geometry.Vec) bool { return false },
	}
	for i := range g.number {
		c := [3]int{i % n[0], i / n[0] % n[1], i / n[0] / n[1]}
		g.number[i] = -1
		if inside(g.at(c)) {
			g.number[i] = int32(len(g.places))
			g.places = append(g.places, c)
		}
	}
	return g
}

func (g *grid) at(c [3]int) geometry.Vec {
	return geometry.V(float64(c[0])+0.5, float64(c[1])+0.5, float64(c[2])+0.5).Scale(g.size)
}

func (g *grid) Len() int                    { return len(g.places) }
func (g *grid) Centre(c int32) geometry.Vec { return g.at(g.places[c]) }
func (g *grid) Vent(c int32) bool           { return g.vent(g.Centre(c)) }

func (g *grid) Neighbours(c int32, into []int32) []int32 {
	for axis := range 3 {
		for _, step := range [2]int{-1, 1} {
			p := g.places[c]
			p[axis] += step
			if p[axis] < 0 || p[axis] >= g.n[axis] {
				continue
			}
			n := g.number[(p[2]*g.n[1]+p[1])*g.n[0]+p[0]]
			if n >= 0 && !g.parted(g.Centre(c), g.at(p)) {
				into = append(into, n)
			}
		}
	}
	return into
}

// top makes the highest layer of cells near x = 0 the vent.
func (g *grid) ventTop(width float64) *grid {
	high := g.at([3]int{0, 0, g.n[2] - 1}).Z
	g.vent = func(p geometry.Vec) bool { return p.Z > high-g.size/2 && p.X < width }
	return g
}

func all(geometry.Vec) bool { return true }

// isWet tells what the liquid covers by the cells that are below the level and in no pocket.
func wetCount(g *grid, air Air, level float64) int {
	wet := 0
	for c := range g.places {
		if g.Centre(int32(c)).Z < level && air.Pocket[c] < 0 {
			wet++
		}
	}
	return wet
}

func TestPlainBoxTrapsNothing(t *testing.T) {
	g := newGrid(1, [3]int{10, 10, 10}, all).ventTop(3)
	air := TrappedAir(g, Pour{Level: 8, Size: 1})
	assert.Empty(t, air.Pockets)
	assert.Equal(t, 800, wetCount(g, air, 8))
}

// A cup upside down, mouth at z = 3, roof at z = 7: filled to 9 it keeps its air down to
// its mouth.
func TestUpturnedCup(t *testing.T) {
	within := func(p geometry.Vec) bool {
		return p.X > 3 && p.X < 7 && p.Y > 3 && p.Y < 7 && p.Z > 3 && p.Z < 7
	}
	g := newGrid(0.5, [3]int{20, 20, 20}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool { // walls and roof, thin; open below
		return within(p) != within(q) && !(p.X == q.X && p.Y == q.Y && min(p.Z, q.Z) < 3)
	}
	air := TrappedAir(g, Pour{Level: 9, Size: 0.5})
	require.Len(t, air.Pockets, 1)
	p := air.Pockets[0]
	assert.Equal(t, Trapped, p.Cause)
	assert.InDelta(t, 3, p.Surface, 1e-12, "the mouth")
	assert.InDelta(t, 4*4*4, p.Volume, 1e-9)
	assert.InDelta(t, 6.75, g.Centre(p.Highest).Z, 1e-12)
	for _, c := range p.Cells {
		assert.True(t, within(g.Centre(c)))
	}
	below := TrappedAir(g, Pour{Level: 3, Size: 0.5})
	assert.Empty(t, below.Pockets, "with the level at the mouth the air is still free")
	part := TrappedAir(g, Pour{Level: 5, Size: 0.5})
	require.Len(t, part.Pockets, 1)
	assert.InDelta(t, 64, part.Pockets[0].Volume, 1e-9, "the air above the level is cut off as well")
}

// The same cup tilted by 30 degrees: it holds air only down to the higher side of its
// mouth. In its plane the air is the cup's section above a level line through that lip.
func TestTiltedCup(t *testing.T) {
	const size, width, depth, angle = 0.1, 4.0, 4.0, math.Pi / 6
	middle := geometry.V(5, 0, 5)
	local := func(p geometry.Vec) (across, up float64) { // in the cup's own frame
		s, c := math.Sincos(angle)
		d := p.Sub(middle)
		return d.X*c + d.Z*s, -d.X*s + d.Z*c
	}
	within := func(p geometry.Vec) bool {
		across, up := local(p)
		return math.Abs(across) < width/2 && math.Abs(up) < depth/2
	}
	g := newGrid(size, [3]int{100, 3, 100}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool {
		if within(p) == within(q) {
			return false
		}
		_, a := local(p)
		_, b := local(q)
		return min(a, b) > -depth/2 // anywhere but through the mouth
	}
	air := TrappedAir(g, Pour{Level: 9, Size: size})
	require.NotEmpty(t, air.Pockets)
	largest := air.Pockets[0]
	for _, p := range air.Pockets {
		if p.Volume > largest.Volume {
			largest = p
		}
	}
	s, c := math.Sincos(angle)
	lip := middle.Z + width/2*s - depth/2*c // the mouth's higher end
	assert.InDelta(t, lip, largest.Surface, 1.5*size)
	// the mouth's line falls by width · tan(angle) in the cup's own frame: a right triangle stays wet
	want := (width*depth - width*width*math.Tan(angle)/2) * 3 * size
	assert.InEpsilon(t, want, largest.Volume, 0.06, "a raster of 40 cells across the cup")
}

// Two chambers parted by a wall at x = 5, the vent over the first. With a slot at the
// floor, 2 high, the second keeps its air above the slot.
func TestChambersJoinedLow(t *testing.T) {
	g := newGrid(0.5, [3]int{20, 10, 20}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool { return (p.X < 5) != (q.X < 5) && p.Z > 2 }
	air := TrappedAir(g, Pour{Level: 8, Size: 0.5})
	require.Len(t, air.Pockets, 1)
	assert.Equal(t, Trapped, air.Pockets[0].Cause)
	assert.InDelta(t, 2, air.Pockets[0].Surface, 1e-12)
	assert.InDelta(t, 5*5*(10-2), air.Pockets[0].Volume, 1e-9)
}

// Joined high, over a weir from 6 to 9: below the weir the second chamber stays empty; over
// it both fill, and above the passage's top the second keeps its air.
func TestChambersJoinedHigh(t *testing.T) {
	g := newGrid(0.5, [3]int{20, 10, 20}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool { return (p.X < 5) != (q.X < 5) && (p.Z < 6 || p.Z > 9) }
	low := TrappedAir(g, Pour{Level: 5, Size: 0.5})
	require.Len(t, low.Pockets, 1)
	assert.Equal(t, Unreached, low.Pockets[0].Cause)
	assert.InDelta(t, 5*5*5, low.Pockets[0].Volume, 1e-9)
	assert.Empty(t, TrappedAir(g, Pour{Level: 7, Size: 0.5}).Pockets)
	full := TrappedAir(g, Pour{Level: 10, Size: 0.5})
	require.Len(t, full.Pockets, 1)
	assert.Equal(t, Trapped, full.Pockets[0].Cause)
	assert.InDelta(t, 9, full.Pockets[0].Surface, 1e-12)
	assert.InDelta(t, 5*5*1, full.Pockets[0].Volume, 1e-9)
}

// An upturned cup that no liquid has reached holds no trapped air of its own.
func TestCupInAnEmptyChamber(t *testing.T) {
	cup := func(p geometry.Vec) bool {
		return p.X > 6 && p.X < 8 && p.Y > 1 && p.Y < 3 && p.Z > 2 && p.Z < 4
	}
	g := newGrid(0.5, [3]int{20, 10, 20}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool {
		weir := (p.X < 5) != (q.X < 5) && p.Z < 6
		return weir || cup(p) != cup(q) && !(p.X == q.X && p.Y == q.Y && min(p.Z, q.Z) < 2)
	}
	air := TrappedAir(g, Pour{Level: 5, Size: 0.5})
	require.Len(t, air.Pockets, 1)
	assert.Equal(t, Unreached, air.Pockets[0].Cause)
	assert.InDelta(t, 125, air.Pockets[0].Volume, 1e-9)
}

func TestSealedChamber(t *testing.T) {
	g := newGrid(0.5, [3]int{20, 10, 20}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool { return (p.X < 5) != (q.X < 5) }
	air := TrappedAir(g, Pour{Level: 8, Size: 0.5})
	require.Len(t, air.Pockets, 1)
	assert.Equal(t, Sealed, air.Pockets[0].Cause)
	assert.InDelta(t, 5*5*10, air.Pockets[0].Volume, 1e-9)
	assert.True(t, math.IsInf(air.Pockets[0].Surface, -1))
}

// Two domes that share a low passage are two pockets when it runs below both, one when
// they are joined above it.
func TestTwoDomes(t *testing.T) {
	domes := func(joined bool) *grid {
		g := newGrid(0.5, [3]int{30, 4, 20}, all).ventTop(4)
		g.parted = func(p, q geometry.Vec) bool {
			chamber := func(x float64) int { return min(int(x/5), 2) }
			a, b := chamber(p.X), chamber(q.X)
			if a == b || p.Z < 2 {
				return false
			}
			return !joined || a == 0 || b == 0 || p.Z < 6
		}
		return g
	}
	apart := TrappedAir(domes(false), Pour{Level: 9, Size: 0.5})
	require.Len(t, apart.Pockets, 2)
	assert.InDelta(t, apart.Pockets[0].Volume, apart.Pockets[1].Volume, 1e-9)
	joined := TrappedAir(domes(true), Pour{Level: 9, Size: 0.5})
	require.Len(t, joined.Pockets, 1)
	assert.InDelta(t, 2*apart.Pockets[0].Volume, joined.Pockets[0].Volume, 1e-9)
	assert.InDelta(t, 2, joined.Pockets[0].Surface, 1e-12)
}

// By definition: a trapped cell cannot get to a vent through cells above its pocket's
// surface, but can through cells from one layer lower; and a wet cell could get out
// through cells no lower than itself when the liquid came.
func TestTrappedAirAgainstItsDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := [3]int{rapid.IntRange(2, 6).Draw(t, "x"), rapid.IntRange(1, 4).Draw(t, "y"), rapid.IntRange(2, 8).Draw(t, "z")}
		solid := rapid.SliceOfN(rapid.IntRange(0, 9), n[0]*n[1]*n[2], n[0]*n[1]*n[2]).Draw(t, "solid")
		g := newGrid(1, n, func(p geometry.Vec) bool {
			return solid[(int(p.Z)*n[1]+int(p.Y))*n[0]+int(p.X)] > 3
		}).ventTop(2)
		level := float64(rapid.IntRange(1, n[2]).Draw(t, "level"))
		air := TrappedAir(g, Pour{Level: level, Size: 1})
		for c := range int32(g.Len()) {
			k := air.Pocket[c]
			out := escapes(g, c, -1)
			switch {
			case k < 0 && g.Centre(c).Z < level:
				require.True(t, escapes(g, c, g.Centre(c).Z), "wet: its air could get out while it was above the liquid")
			case k >= 0 && air.Pockets[k].Cause == Sealed:
				require.False(t, out)
			case k >= 0 && air.Pockets[k].Cause == Trapped:
				s := air.Pockets[k].Surface
				require.False(t, escapes(g, c, s), "trapped above its surface")
				require.True(t, escapes(g, c, s-1), "free one layer lower")
				require.LessOrEqual(t, s, level)
			}
		}
	})
}

// escapes reports whether a vent can be reached from c through cells with centres at least as high as floor.
func escapes(g *grid, c int32, floor float64) bool {
	seen, stack := map[int32]bool{c: true}, []int32{c}
	for len(stack) > 0 {
		c := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if g.Vent(c) {
			return true
		}
		for _, n := range g.Neighbours(c, nil) {
			if !seen[n] && g.Centre(n).Z >= floor {
				seen[n] = true
				stack = append(stack, n)
			}
		}
	}
	return false
}
