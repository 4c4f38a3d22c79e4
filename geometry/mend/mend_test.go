package mend

import (
	"bytes"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/stlfile"
)

func tank(t testing.TB, name string) geometry.Mesh {
	m, _, err := stlfile.Read(filepath.Join("..", "..", "testdata", "stl", name+".stl"), stlfile.Millimetre)
	require.NoError(t, err)
	return m
}

// filed returns m as it comes back from a file.
func filed(t testing.TB, m geometry.Mesh) geometry.Mesh {
	var out bytes.Buffer
	require.NoError(t, stlfile.Write(&out, &m, stlfile.Millimetre, "test"))
	back, _, err := stlfile.Parse(out.Bytes(), stlfile.Millimetre)
	require.NoError(t, err)
	return back
}

var fillers = map[string]geometry.Disc{
	"saddle": {Centre: geometry.V(-.060, .012, .190), Axis: geometry.V(0, 0, 1), Radius: .030, Depth: .015},
	"drum":   {Centre: geometry.V(.080, .020, .29866), Axis: geometry.V(0, .13333, .99107), Radius: .030, Depth: .015},
	"box":    {Centre: geometry.V(.100, .140, .200), Axis: geometry.V(0, 0, 1), Radius: .030, Depth: .015},
}

func TestDamageLook(t *testing.T) {
	for _, name := range []string{"saddle", "drum", "box"} {
		whole := tank(t, name)
		disc := fillers[name]
		rest, _, _, _ := disc.Cut(&whole)
		for _, d := range []struct {
			what string
			damage
		}{
			{"none", damage{}},
			{"lost 1", damage{lost: .01}},
			{"lost 5", damage{lost: .05}},
			{"flipped 5", damage{flipped: .05}},
			{"flipped 50", damage{flipped: .5}},
			{"doubled 5", damage{doubled: .05}},
			{"crack .1", damage{crack: .1e-3}},
			{"crack .3", damage{crack: .3e-3}},
			{"crack .5", damage{crack: .5e-3}},
			{"filler", damage{filler: &disc}},
			{"all mild", damage{.01, .05, .05, .1e-3, &disc}},
			{"all", damage{.05, .5, .05, .5e-3, &disc}},
		} {
			broken := filed(t, d.apply(whole, 1))
			start := time.Now()
			got, err := Shell(broken, Settings{Openings: []Opening{{"filler", disc}}})
			took := time.Since(start)
			if err != nil {
				t.Logf("%s %s: %v (%v)", name, d.what, err, took)
				continue
			}
			wall, _, _, _ := disc.Cut(&got.Shell)
			r := got.Report
			t.Logf("%s %-10s volume %+.3f %% area %+.3f %%; doubled %d cracks %d (%.2f mm) turned %d flaps %d strays %d slits %d holes %d filler %d sheets %d; %v", name, d.what,
				100*(got.Shell.Volume()/whole.Volume()-1), 100*(wall.Area()/rest.Area()-1), r.Doubled, r.Cracks, 1000*r.Widest, r.Turned, r.Flaps, r.Strays, len(r.HolesOf(Slit)), len(r.HolesOf(Closed)), len(r.HolesOf(Filler)), r.Sheets, took.Round(time.Millisecond))
			assert.NotZero(t, len(got.Shell.Faces))
		}
	}
}
