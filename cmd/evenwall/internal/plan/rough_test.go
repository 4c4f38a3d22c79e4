package plan

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/mend/damage"
	"evenwall/geometry/stlfile"
)

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
// 1 % and the wall's percentiles within 4 % of the whole tank at the same spacing. All of it
// at once on every tank in the suite; each kind, by three seeds, with EVENWALL_LONG.
func TestDamagedTanksGiveTheSameFigures(t *testing.T) {
	seeds, all := uint64(1), isLong()
	if all {
		seeds = 3
	}
	for _, name := range []string{"saddle-tilted", "drum-sleeved", "box-baffle"} {
		whole, err := job.Load(filepath.Join(casesFolder, name, "job.yaml"))
		require.NoError(t, err)
		want, damages := figuresOf(t, whole), kinds(openingsOf(whole)[0].Disc())
		for _, kind := range slices.Sorted(maps.Keys(damages)) {
			for seed := range seeds {
				if all || kind == "10 all, most" {
					got := figuresOf(t, broken(t, whole, damages[kind], 1+seed))
					got.holdTo(t, &want, fmt.Sprintf("%s, %s, seed %d", name, kind, 1+seed))
				}
			}
		}
	}
}

// holdTo holds figures against those of the whole tank and logs how far off they are, percent.
func (f *figures) holdTo(t *testing.T, want *figures, what string) {
	far := func(a, b float64) float64 { return 100 * (a/b - 1) }
	line := fmt.Sprintf("%-42s volume %+6.3f area %+6.3f current %+6.3f; percentiles", what, far(f.volume, want.volume), far(f.area, want.area), far(f.current, want.current))
	for i := range f.percentile {
		line += fmt.Sprintf(" %+6.2f", far(f.percentile[i], want.percentile[i]))
		assert.InDelta(t, 0, far(f.percentile[i], want.percentile[i]), 4, what)
	}
	t.Log(line)
	assert.InDelta(t, 0, far(f.volume, want.volume), 1, what)
	assert.InDelta(t, 0, far(f.area, want.area), 2, what)
	assert.InDelta(t, 0, far(f.current, want.current), 1, what)
}
