package vessel

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// pumpTank is a box of 400 × 250 × 200 mm with a filler on top and an outlet in the floor.
func pumpTank(outlet Use) Tank {
	return Tank{
		Shell: boxMesh(0.4, 0.25, 0.2),
		Openings: []Opening{
			{Name: "filler", Centre: geometry.V(0.1, 0.125, 0.2), Axis: geometry.V(0, 0, 1), Diameter: 0.06},
			{Name: "outlet", Centre: geometry.V(0.3, 0.1, 0), Axis: geometry.V(0, 0, -1), Diameter: 0.014, Use: outlet},
		},
	}
}

func TestLevelErrorsNameTheOpeningAndTheWayOut(t *testing.T) {
	plugged, err := New(pumpTank(Plugged))
	require.NoError(t, err)
	open, err := New(pumpTank(Open))
	require.NoError(t, err)
	shut := pumpTank(Steel)
	shut.Openings = shut.Openings[1:]
	closed, err := New(shut)
	require.NoError(t, err)
	for _, c := range []struct {
		name  string
		v     *Vessel
		level Level
		want  string
	}{
		{"outlet open", open, Level{}, `opening "outlet" is open at the bottom, 0.0 mm above the lowest inside point, so the liquid runs out: plug it`},
		{"nothing open", closed, Level{}, "no opening is open: name the one that the rod hangs in"},
		{"above the brim", plugged, Level{ByHeight, 0.21}, `the level 210.0 mm is above the brim at 200.0 mm (lowest point of the rim of opening "filler")`},
		{"below the floor", plugged, Level{BelowRim, 0.25}, "the level -50.0 mm is not above the lowest inside point"},
		{"too many litres", plugged, Level{ByVolume, 0.021}, `21.00 L is more than the 20.00 L that the tank holds to the rim of opening "filler"`},
		{"no litres", plugged, Level{ByVolume, 0}, "0.00 L leaves the tank empty"},
	} {
		_, err := c.v.Resolve(c.level)
		assert.ErrorContains(t, err, c.want, c.name)
	}
}

func TestLevelsMeanTheSameHeight(t *testing.T) {
	v, err := New(pumpTank(Plugged))
	require.NoError(t, err)
	for _, level := range []Level{{ByHeight, 0.18}, {BelowRim, 0.02}, {ByVolume, 0.018}} {
		h, err := v.Resolve(level)
		require.NoError(t, err)
		assert.InDelta(t, 0.18, h, 1e-12)
	}
	h, err := v.Resolve(Level{})
	require.NoError(t, err)
	assert.InDelta(t, 0.2, h, 1e-15)
}

// A plug of steel is wall, one that insulates is not.
func TestUseDecidesWhatIsWall(t *testing.T) {
	steel, err := New(pumpTank(Steel))
	require.NoError(t, err)
	plugged, err := New(pumpTank(Plugged))
	require.NoError(t, err)
	assert.InDelta(t, 3.141592653589793*0.007*0.007, steel.Wall.Area()-plugged.Wall.Area(), 1e-12)
	assert.Equal(t, int32(1), plugged.Wall.Opening[len(plugged.Wall.Opening)-1])
	for i, from := range plugged.Wall.Source {
		was, is := plugged.Shell.Triangle(int(from)), plugged.Wall.Mesh.Triangle(i)
		assert.InDelta(t, 0, was.Closest(is.Centroid()).Dist(is.Centroid()), 1e-12, "each facet is part of its source")
	}
}

func TestBadTanksAreRefused(t *testing.T) {
	flat := geometry.Mesh{Vertices: []geometry.Vec{{}, {X: 1}, {Y: 1}}, Faces: [][3]int32{{0, 1, 2}, {0, 2, 1}}}
	for want, tank := range map[string]Tank{
		"no facets":          {},
		"encloses no volume": {Shell: flat},
		"diameter -60 mm":    {Shell: boxMesh(1, 1, 1), Openings: []Opening{{Name: "filler", Axis: geometry.V(0, 0, 1), Diameter: -0.06}}},
		"has no axis":        {Shell: boxMesh(1, 1, 1), Openings: []Opening{{Name: "filler", Diameter: 0.06}}},
	} {
		_, err := New(tank)
		assert.ErrorContains(t, err, want)
	}
}
