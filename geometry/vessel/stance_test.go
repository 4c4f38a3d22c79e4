package vessel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

const degree = math.Pi / 180

// boxStances is a box of 30 × 20 × 15 m with a filler of 6 m in its roof at x = 4 m, on a
// raster of cells of that size.
func boxStances(t *testing.T, size float64, sheets ...geometry.Mesh) (*Stances, *Vessel) {
	v, err := New(Tank{Shell: boxMesh(30, 20, 15), Baffles: sheets,
		Openings: []Opening{{Name: "filler", Centre: geometry.V(4, 10, 15), Axis: geometry.V(0, 0, 1), Diameter: 6}}})
	require.NoError(t, err)
	g := newGrid(size, [3]int{int(30 / size), int(20 / size), int(15 / size)}, all)
	g.vent = func(p geometry.Vec) bool { return v.Vents(p, g.size) }
	return NewStances(v, g, g.size), v
}

// Two routes: the raster's wetted wall against the facets cut at the brim, in attitudes
// that trap nothing.
func TestStancesAgainstCutFacets(t *testing.T) {
	s, v := boxStances(t, 0.5)
	for _, a := range [][2]float64{{0, 0}, {10, 0}, {-8, 3}, {4, -12}} {
		stance := s.At(a[0]*degree, a[1]*degree)
		require.True(t, stance.Held)
		propped := v.Turned(geometry.Attitude(a[0]*degree, a[1]*degree))
		brim, err := propped.Brim()
		require.NoError(t, err)
		f := propped.Fill(brim.Height)
		assert.InEpsilon(t, f.Wetted.Area(), stance.Wet+stance.Trapped, 0.01, "%v degrees", a)
	}
}

// Level, the roof of 30 × 20 m less the filler is a ceiling in level; 20 degrees up it is
// none any more.
func TestCeilingsNearLevel(t *testing.T) {
	s, _ := boxStances(t, 0.5)
	assert.InEpsilon(t, 30*20-math.Pi*9, s.At(0, 0).Blind, 0.01)
	assert.Zero(t, s.At(20*degree, 0).Blind)
}

// With the filler at the rear the rear goes up; with an outlet open at the front's foot
// nothing holds.
func TestBestStanceLetsGasRiseToTheFiller(t *testing.T) {
	s, _ := boxStances(t, 1)
	best := s.Best(30 * degree)
	assert.Greater(t, best.Pitch, 14*degree, "the rear goes up until the roof is no longer near level")
	assert.Less(t, best.Pitch, 20*degree, "and no farther: the roof behind the filler falls dry")
	assert.InDelta(t, 0, best.Roll, 4*degree)
	assert.Greater(t, s.worth(best), s.worth(s.At(0, 0)))
	room := s.RoomAbout(best, 15*degree)
	for name, r := range map[string]float64{"front down": room.PitchUp, "left up": room.RollUp, "left down": room.RollDown} {
		assert.Less(t, r, 15*degree, name)
	}

	s.vessel.Openings = append(s.vessel.Openings, Opening{Name: "outlet", Centre: geometry.V(28, 10, 0), Axis: geometry.V(0, 0, -1), Diameter: 2})
	assert.False(t, s.At(0, 0).Held)
}

// A plate hung from the roof between filler and front: level it keeps air in front of it, its
// depth of 5 m; with the front down enough the air gets past it only above the plate's foot.
func TestStanceSeesAPlateThatTrapsAir(t *testing.T) {
	plate := sheet(geometry.V(15, 0, 10), geometry.V(15, 20, 10), geometry.V(15, 20, 15), geometry.V(15, 0, 15))
	s, v := boxStances(t, 0.5, plate)
	g := s.raster.(*grid)
	g.parted = func(p, q geometry.Vec) bool { return (p.X < 15) != (q.X < 15) && p.Z > 10 }
	s = NewStances(v, g, g.size)
	level := s.At(0, 0)
	assert.InEpsilon(t, 15*20*5, level.Air, 0.001, "15 × 20 × 5 m in front of the plate")
	// the roof there, the plate's front face, the front wall and both sides down to the foot
	assert.InEpsilon(t, 15*20+5*20+5*20+2*15*5, level.Trapped, 0.05)
	assert.Less(t, s.At(20*degree, 0).Air, level.Air, "front down lets some of it by")
}

// Gas from under the plate's chamber stays there, from elsewhere it gets to the filler.
func TestWhereGasRises(t *testing.T) {
	plate := sheet(geometry.V(15, 0, 10), geometry.V(15, 20, 10), geometry.V(15, 20, 15), geometry.V(15, 0, 15))
	s, _ := boxStances(t, 0.5, plate)
	g := s.raster.(*grid)
	g.parted = func(p, q geometry.Vec) bool { return (p.X < 15) != (q.X < 15) && p.Z > 10 }
	pour := Pour{Level: 15, Size: g.size}
	air := TrappedAir(g, pour)
	require.Len(t, air.Pockets, 1)
	to := Rising(g, &air, pour)
	for c := range g.Len() {
		want := int32(Free)
		if g.Centre(int32(c)).X > 15 {
			want = 0
		}
		require.Equal(t, want, to[c], "%v", g.Centre(int32(c)))
	}
}
