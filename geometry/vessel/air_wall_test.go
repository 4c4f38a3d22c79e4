package vessel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

func (g *grid) CellAt(p geometry.Vec) (int32, bool) {
	c := [3]int{int(math.Floor(p.X / g.size)), int(math.Floor(p.Y / g.size)), int(math.Floor(p.Z / g.size))}
	for axis := range 3 {
		if c[axis] < 0 || c[axis] >= g.n[axis] {
			return 0, false
		}
	}
	n := g.number[(c[2]*g.n[1]+c[1])*g.n[0]+c[0]]
	return n, n >= 0
}

// sheet is a flat baffle by its four corners in turn.
func sheet(corners ...geometry.Vec) geometry.Mesh {
	return geometry.Mesh{Vertices: corners, Faces: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
}

// boxWith is a box of 10 × 10 × 10 m, open near its rear, with sheets inside. Size does
// not matter here and whole numbers are easy to check.
func boxWith(t *testing.T, y float64, sheets ...geometry.Mesh) *Vessel {
	v, err := New(Tank{
		Shell: boxMesh(10, y, 10), Baffles: sheets,
		Openings: []Opening{{Name: "filler", Centre: geometry.V(1.5, y/2, 10), Axis: geometry.V(0, 0, 1), Diameter: 2}},
	})
	require.NoError(t, err)
	return v
}

// Worked by hand: an upturned cup of 4 × 4 × 4 m keeps the inner faces of its four walls and
// its roof dry; their outer faces are wet.
func TestDryWallInAnUpturnedCup(t *testing.T) {
	a, b, low, high := 3.0, 7.0, 3.0, 7.0
	corner := func(x, y, z float64) geometry.Vec { return geometry.V(x, y, z) }
	v := boxWith(t, 10,
		sheet(corner(a, a, low), corner(a, b, low), corner(a, b, high), corner(a, a, high)),
		sheet(corner(b, a, low), corner(b, b, low), corner(b, b, high), corner(b, a, high)),
		sheet(corner(a, a, low), corner(b, a, low), corner(b, a, high), corner(a, a, high)),
		sheet(corner(b, b, low), corner(a, b, low), corner(a, b, high), corner(b, b, high)),
		sheet(corner(a, a, high), corner(b, a, high), corner(b, b, high), corner(a, b, high)))
	within := func(p geometry.Vec) bool {
		return p.X > a && p.X < b && p.Y > a && p.Y < b && p.Z > low && p.Z < high
	}
	g := newGrid(0.5, [3]int{20, 20, 20}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool {
		return within(p) != within(q) && !(p.X == q.X && p.Y == q.Y && min(p.Z, q.Z) < low)
	}
	f := v.Fill(9)
	air := TrappedAir(g, Pour{Level: f.Surface.Offset, Size: g.size})
	require.Len(t, air.Pockets, 1)
	wetted, dry, walls := v.DryUnder(&f, &air, g, g.size)
	assert.InDelta(t, f.Wetted.Area(), wetted.Area()+dry.Area(), 1e-9*f.Wetted.Area(), "nothing is lost")
	assert.InDelta(t, 5*16, walls[0].Area, 1e-9)
	assert.InDelta(t, 64, walls[0].Volume, 1e-9)
	assert.InDelta(t, high, walls[0].Top.Z, 1e-12)
	assert.InDelta(t, f.Wetted.Area()-5*16, wetted.Area(), 1e-9)
	assert.InDelta(t, f.Wetted.AreaOf(Shell), wetted.AreaOf(Shell), 1e-9)
}

// Two chambers with a slot of 2 m at the floor, filled to 8 m: dry are the second's three
// walls and the sheet's face towards it, from 2 to 8 m. Where the sheet meets the side
// walls a piece of theirs that lies across it goes to one side whole: hence half a per cent.
func TestDryWallInASecondChamber(t *testing.T) {
	v := boxWith(t, 5, sheet(geometry.V(5, 0, 2), geometry.V(5, 5, 2), geometry.V(5, 5, 10), geometry.V(5, 0, 10)))
	g := newGrid(0.5, [3]int{20, 10, 20}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool { return (p.X < 5) != (q.X < 5) && p.Z > 2 }
	f := v.Fill(8)
	air := TrappedAir(g, Pour{Level: f.Surface.Offset, Size: g.size})
	require.Len(t, air.Pockets, 1)
	wetted, dry, walls := v.DryUnder(&f, &air, g, g.size)
	assert.InDelta(t, f.Wetted.Area(), wetted.Area()+dry.Area(), 1e-9*f.Wetted.Area(), "nothing is lost")
	assert.InEpsilon(t, 4*5*6, walls[0].Area, 0.005)
	assert.InDelta(t, 5*5*8, walls[0].Volume, 1e-9, "what is above the level is trapped as well")
	assert.InDelta(t, f.Wetted.Area()-walls[0].Area, wetted.Area(), 1e-9)
}

// The surface of a pocket need not lie on the side of a facet or of a piece.
func TestDryWallIsCutAtThePocketsSurface(t *testing.T) {
	v := boxWith(t, 5, sheet(geometry.V(5, 0, 2), geometry.V(5, 5, 2), geometry.V(5, 5, 10), geometry.V(5, 0, 10)))
	g := newGrid(0.5, [3]int{20, 10, 20}, all).ventTop(3)
	g.parted = func(p, q geometry.Vec) bool { return (p.X < 5) != (q.X < 5) && p.Z > 2 }
	f := v.Fill(8)
	air := TrappedAir(g, Pour{Level: f.Surface.Offset, Size: g.size})
	air.Pockets[0].Surface = 2.13
	_, _, walls := v.DryUnder(&f, &air, g, g.size)
	assert.InEpsilon(t, 4*5*(8-2.13), walls[0].Area, 0.005)
}
