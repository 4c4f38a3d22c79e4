package table

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"evenwall/field"
	"evenwall/field/electrode"
	"evenwall/field/search"
	"evenwall/geometry"
	"evenwall/geometry/stlfile"
	"evenwall/geometry/vessel"
)

// saddle is the reference tank with a frame tunnel, a second opening added so that several
// rods hang apart.
type saddle struct {
	vessel *vessel.Vessel
	space  search.Space
	coarse *field.Filled
	fine   *field.Filled
	rough  *field.Recovery
	exact  *field.Recovery
}

func mm(x, y, z float64) geometry.Vec { return geometry.V(x, y, z).Scale(1e-3) }

const clearance = 0.025

func newSaddle(t testing.TB, fine float64) *saddle {
	mesh, _, err := stlfile.Read(filepath.Join("..", "..", "testdata", "cases", "saddle-tilted", "tank.stl"), stlfile.Millimetre)
	require.NoError(t, err)
	openings := []vessel.Opening{{Name: "filler", Centre: mm(-60, 12, 190), Axis: geometry.V(0, 0, 1), Diameter: 0.060}}
	v, err := vessel.New(vessel.Tank{Shell: mesh, Openings: openings})
	require.NoError(t, err)
	s := &saddle{vessel: v}
	filling := v.Fill(0.190)
	lay := func(h float64) *field.Filled {
		f, err := field.Fill(v, filling, field.Grid{Spacing: h}, nil)
		require.NoError(t, err)
		return f
	}
	s.coarse, s.fine = lay(8e-3), lay(fine)
	s.rough, s.exact = s.coarse.Recovery(), s.fine.Recovery()
	s.space = search.Space{Openings: openings, Steel: geometry.NewTree(&v.Wall.Mesh), Surface: filling.Surface,
		Radii: []float64{4e-3, 5e-3, 6e-3}, Clearance: clearance}
	return s
}

func (s *saddle) settings() Settings {
	var wall electrode.Law = electrode.Film{Resistance: 0.02}
	if os.Getenv("TRIAL_KINETIC") != "" {
		wall = electrode.DefaultWall()
	}
	return Settings{Conductivity: 0.6, Wall: wall, Anode: electrode.Film{Resistance: 0.002},
		Supply: field.Supply{Voltage: 9}, Clearance: clearance}
}

// layout returns a random feasible layout of one to three rods, bare in places.
func (s *saddle) layout(r *rand.Rand, most int) []geometry.Rod {
	bounds := s.coarse.Steel.Mesh.Bounds()
	count := 1 + r.IntN(most)
	var rods []geometry.Rod
	for tries := 0; len(rods) < count && tries < 20000; tries++ {
		at := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
		p := search.Place{Tip: geometry.V(at(bounds.Min.X, bounds.Max.X), at(bounds.Min.Y, bounds.Max.Y), at(bounds.Min.Z, bounds.Max.Z)),
			U: at(-0.02, 0.02), V: at(-0.02, 0.02), Radius: s.space.Radii[r.IntN(len(s.space.Radii))]}
		from := 0.0
		if r.IntN(2) == 0 {
			from = at(0, 0.08)
		}
		p.Bare = geometry.Span{From: from, To: from + at(0.02, 0.25)}
		fit, miss := s.space.Fit(p)
		if miss != nil {
			continue
		}
		rod := s.space.Rod(fit)
		if apart(rods, rod) {
			rods = append(rods, rod)
		}
	}
	return rods
}

// apart reports whether a rod keeps 12 mm from others, axis to axis.
func apart(rods []geometry.Rod, rod geometry.Rod) bool {
	for _, other := range rods {
		a, b := geometry.SegmentGap(rod.Path[0], rod.Path[1], other.Path[0], other.Path[1])
		if a.Dist(b) < rod.Sleeve+other.Sleeve+0.002 {
			return false
		}
	}
	return true
}

// solved is the fine solve of a layout.
type solved struct {
	current, most float64
	even          *field.Uniformity
	rate          []float64 // on the lattice's own patches
}

func (s *saddle) solve(t testing.TB, set Settings, rods []geometry.Rod, f *field.Filled, rec *field.Recovery) solved {
	p := &field.Problem{Liquid: f.Liquid, Level: f.Level, Conductivity: set.Conductivity, Wall: set.Wall, Normal: f.Normal, Supply: set.Supply}
	for _, r := range rods {
		p.Anodes = append(p.Anodes, field.Anode{Rod: f.Turned(r), Law: set.Anode})
	}
	sol, err := field.Solve(context.Background(), p, field.Settings{Tolerance: 1e-6})
	require.NoError(t, err)
	j, _ := sol.WallCurrent(rec)
	out := solved{current: sol.Current, even: field.NewUniformity(rec.Patches.All, j), rate: j}
	for _, r := range sol.Rods {
		out.most = math.Max(out.most, r.Most)
	}
	return out
}

var shares = []float64{0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95}

// far is by how much figures of one layout differ, as shares of the fine solve's; NaN where
// left out.
type far struct {
	current, most float64
	percentile    [7]float64
}

func compare(e search.Exposure, patches []field.Patch, with solved) far {
	u := field.NewUniformity(patches, e.Rate)
	f := far{current: e.Current/with.current - 1, most: e.AnodeMost/with.most - 1}
	for i, q := range shares {
		f.percentile[i] = math.NaN()
		if want := with.even.Percentile(q); want >= 0.01*with.even.Mean() {
			f.percentile[i] = u.Percentile(q)/want - 1
		}
	}
	return f
}

// spread prints the distribution of a figure over layouts.
func spread(name string, values []float64) string {
	var v, size []float64
	for _, x := range values {
		if !math.IsNaN(x) {
			v, size = append(v, x), append(size, math.Abs(x))
		}
	}
	slices.Sort(v)
	slices.Sort(size)
	if len(v) == 0 {
		return name + ": none"
	}
	at := func(s []float64, q float64) float64 { return 100 * s[min(len(s)-1, int(q*float64(len(s))))] }
	return fmt.Sprintf("%-8s median %+.2f %%, size: median %.2f, 90 of 100 %.2f, 95 of 100 %.2f, worst %.2f (%+.2f … %+.2f), n %d", name, at(v, 0.5), at(size, 0.5), at(size, 0.9), at(size, 0.95),
		at(size, 1), at(v, 0), at(v, 1), len(v))
}

func report(t testing.TB, all []far) {
	column := func(name string, of func(far) float64) {
		var v []float64
		for _, f := range all {
			v = append(v, of(f))
		}
		t.Log(spread(name, v))
	}
	column("current", func(f far) float64 { return f.current })
	column("most", func(f far) float64 { return f.most })
	for i, q := range shares {
		column(fmt.Sprintf("p%.0f", 100*q), func(f far) float64 { return f.percentile[i] })
	}
}

func TestTrial(t *testing.T) {
	s := newSaddle(t, 3e-3)
	set := s.settings()
	start := time.Now()
	tab, err := Build(context.Background(), s.coarse, s.rough, set)
	require.NoError(t, err)
	t.Logf("%d nodes, %d boxes, %d patches: %v", len(tab.boxes.nodes), len(tab.boxes.all), len(tab.patches), time.Since(start))
	n, most := 10, 3
	fmt.Sscan(os.Getenv("TRIAL_N"), &n)
	fmt.Sscan(os.Getenv("TRIAL_MOST"), &most)
	r := rand.New(rand.NewPCG(7, 8))
	var raw, rough []far
	for range n {
		rods := s.layout(r, most)
		want := s.solve(t, set, rods, s.fine, s.exact)
		b, err := tab.Evaluate(context.Background(), rods)
		require.NoError(t, err)
		raw = append(raw, compare(b, tab.patches, want))
		m := s.solve(t, set, rods, s.coarse, s.rough)
		rough = append(rough, compare(search.Exposure{Current: m.current, AnodeMost: m.most, Rate: m.rate}, tab.patches, want))
	}
	t.Log("table")
	report(t, raw)
	t.Log("coarse solve")
	report(t, rough)
}
