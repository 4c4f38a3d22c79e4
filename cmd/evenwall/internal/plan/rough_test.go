package plan

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/mend/damage"
	"evenwall/geometry/stlfile"
)

var long = flag.Bool("long", false, "run every kind of damage on every tank")

// figures are what damage must not change.
type figures struct {
	volume, area, current float64
	percentile            [4]float64 // of the wall's current density by area: 25, 50, 75, 95 %
}

// coarse is the spacing at which whole and mended are compared, m.
const coarse = 6e-3

// figuresOf computes a job's tank at a coarse spacing, with all of the way that every
// command takes: file, mending, tank, lattice, solution, wall.
func figuresOf(t testing.TB, j *job.Job) figures {
	ctx := context.Background()
	tank, err := NewTank(ctx, j, j.First().Attitude)
	require.NoError(t, err)
	basin, err := tank.NewBasin(coarse)
	require.NoError(t, err)
	s, err := basin.Solve(ctx, j.First().Anodes)
	require.NoError(t, err)
	f := figures{volume: tank.Filling.Volume, area: tank.Filling.Wetted.Area(), current: s.Current}
	for i, q := range [4]float64{0.25, 0.50, 0.75, 0.95} {
		f.percentile[i] = s.Even.Percentile(q)
	}
	return f
}

// scattered returns a rule that keeps facets near those lost before: what is lost leaves
// holes of one facet.
func scattered() func(geometry.Triangle) bool {
	const apart = 0.012 // m
	var lost []geometry.Vec
	return func(t geometry.Triangle) bool {
		for _, p := range lost {
			if p.Dist(t.Centroid()) < apart {
				return true
			}
		}
		lost = append(lost, t.Centroid())
		return false
	}
}

// broken returns a copy of the job whose surfaces are damaged. The holes in baffles are
// under 12 mm.
func broken(t testing.TB, whole *job.Job, d damage.Damage, seed uint64) *job.Job {
	j := *whole
	folder := t.TempDir()
	damaged := func(path string, d damage.Damage, keep func(geometry.Triangle) bool) string {
		m, _, err := stlfile.Read(path, stlfile.Millimetre)
		require.NoError(t, err)
		m = d.Apply(m, seed, keep)
		to := filepath.Join(folder, filepath.Base(path))
		file, err := os.Create(to)
		require.NoError(t, err)
		require.NoError(t, stlfile.Write(file, &m, stlfile.Millimetre, "broken"))
		require.NoError(t, file.Close())
		return to
	}
	j.Tank.Surface = damaged(whole.Tank.Surface, d, nil)
	d.Cut = nil
	j.Tank.Baffles = nil
	for _, b := range whole.Tank.Baffles {
		j.Tank.Baffles = append(j.Tank.Baffles, damaged(b, d, scattered()))
	}
	return &j
}

// kinds are the kinds of damage, each alone and all at once.
func kinds(filler geometry.Disc) map[string]damage.Damage {
	cut := []geometry.Disc{filler}
	return map[string]damage.Damage{
		"01 lost 1 %":      {Lost: 0.01},
		"02 lost 5 %":      {Lost: 0.05},
		"03 flipped 5 %":   {Flipped: 0.05},
		"04 flipped 50 %":  {Flipped: 0.50},
		"05 doubled 5 %":   {Doubled: 0.05},
		"06 cracks 0.1 mm": {Crack: 0.1e-3},
		"07 cracks 0.5 mm": {Crack: 0.5e-3},
		"08 filler cut":    {Cut: cut},
		"09 all, least":    {Lost: 0.01, Flipped: 0.05, Doubled: 0.05, Crack: 0.1e-3, Cut: cut},
		"10 all, most":     {Lost: 0.05, Flipped: 0.50, Doubled: 0.05, Crack: 0.5e-3, Cut: cut},
	}
}

// Damage of every kind leaves volume within 1 %, wetted area within 2 %, current within
// 1 % and the wall's percentiles within 4 % of the whole tank at the same spacing.
func TestDamagedTanksGiveTheSameFigures(t *testing.T) {
	far := func(a, b float64) float64 { return 100 * (a/b - 1) }
	for _, name := range []string{"saddle-tilted", "drum-sleeved", "box-baffle"} {
		whole, err := job.Load(filepath.Join(casesFolder, name, "job.yaml"))
		require.NoError(t, err)
		want := figuresOf(t, whole)
		for kind, d := range kinds(openingsOf(whole)[0].Disc()) {
			if !*long && kind != "10 all, most" {
				continue
			}
			what := name + ", " + kind
			got := figuresOf(t, broken(t, whole, d, 1))
			line := fmt.Sprintf("%-34s volume %+6.3f area %+6.3f current %+6.3f; percentiles", what, far(got.volume, want.volume), far(got.area, want.area), far(got.current, want.current))
			for i := range got.percentile {
				line += fmt.Sprintf(" %+6.2f", far(got.percentile[i], want.percentile[i]))
				assert.InDelta(t, 0, far(got.percentile[i], want.percentile[i]), 4, what)
			}
			t.Log(line)
			assert.InDelta(t, 0, far(got.volume, want.volume), 1, what)
			assert.InDelta(t, 0, far(got.area, want.area), 2, what)
			assert.InDelta(t, 0, far(got.current, want.current), 1, what)
		}
	}
}
