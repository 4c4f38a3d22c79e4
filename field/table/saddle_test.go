package table

import (
	"context"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

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

// wallPatches is the spacing, m, that the wall's patches are made for: of greater ones the
// mean already hides how uneven the least reached wall is.
const wallPatches = 5e-3

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
	s.rough, s.exact = s.coarse.RecoveryOn(field.NewPatches(s.coarse.Steel, wallPatches)), s.fine.Recovery()
	s.space = search.Space{Openings: openings, Steel: geometry.NewTree(&v.Wall.Mesh), Surface: filling.Surface,
		Radii: []float64{4e-3, 5e-3, 6e-3}, Clearance: clearance}
	return s
}

func (s *saddle) settings() Settings {
	return Settings{Conductivity: 0.6, Wall: electrode.Film{Resistance: 0.02}, Anode: electrode.Film{Resistance: 0.002},
		Supply: field.Supply{Voltage: 9}, Clearance: clearance, Fine: s.fine}
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
