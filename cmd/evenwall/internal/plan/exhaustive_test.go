package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/search"
	"evenwall/field/station"
	"evenwall/geometry"
)

// The steps of the exhaustive grid.
const (
	gridPlace = 0.005             // in the opening's plane, m
	gridLean  = 5 * math.Pi / 180 // of the rod, either way
	gridDepth = 0.010             // of the tip, m
	gridBare  = 0.020             // of both ends of the bare stretch, m
)

// The layout found, against the best of an exhaustive grid of one diameter under the same
// limits and against the plumb rod, on five tanks: by the table that the search looks at, and
// the best of both solved on the fine lattice. Every axis of the grid is tried with all that
// the clearance lets it bare; every stretch of it with the best fiftieth of them and with one
// in five hundred of the rest. The wall has the job's own law, a film in the three reference tanks
// and kinetics in the others. It takes 5 to 20 minutes a tank: run with EVENWALL_LONG=1.
func TestLayoutAgainstAnExhaustiveGrid(t *testing.T) {
	longOnly(t)
	const cases = "../../../../testdata/cases/"
	for name, path := range map[string]string{"demo": "../../demo.yaml", "saddle": cases + "saddle-tilted/job.yaml", "drum": cases + "drum-sleeved/job.yaml",
		"box": cases + "box-baffle/job.yaml", "lobed": "../../../../testdata/jobs/lobed.yaml"} {
		t.Run(name, func(t *testing.T) { againstGrid(t, path) })
	}
}

func againstGrid(t *testing.T, path string) {
	ctx := context.Background()
	j, err := job.Load(path)
	require.NoError(t, err)
	tank, err := NewTank(ctx, j, j.First().Attitude)
	require.NoError(t, err)
	h, err := tank.newHunt(j.First())
	require.NoError(t, err)
	require.NoError(t, h.screen.build(ctx))
	p := h.problem()
	found, err := search.Search(ctx, p, h.settings())
	require.NoError(t, err)
	g := grid{Problem: p, t: t, patches: found.Patches, radius: p.Space.Radii[len(p.Space.Radii)/2]}
	began := time.Now()
	require.NoError(t, g.run(ctx))
	best := found.Best.Verdict
	t.Logf("by the table: found %.2f %% after ten days (%v), best of %d on the grid %.2f %% (%v), of %d stretches of axes outside the best fiftieth %.2f %%; plumb rod %.2f %%; %.0f s",
		100*best.After[2], best.Finish, g.tried, 100*g.best[0].Verdict.After[2], g.best[0].Verdict.Finish, g.sampled, 100*g.rest.After[2],
		100*found.Naive.Verdict.After[2], time.Since(began).Seconds())
	assert.GreaterOrEqual(t, best.After[2], 0.99*g.best[0].Verdict.After[2])
	if g.best[0].Verdict.Finish.Ever {
		assert.True(t, best.Finish.Ever)
		assert.LessOrEqual(t, best.Finish.Seconds, 1.01*g.best[0].Verdict.Finish.Seconds)
	}
	fine, err := h.NewBasin(0)
	require.NoError(t, err)
	require.NoError(t, h.verify(ctx, found, fine))
	onGrid, err := h.ranked(ctx, found, fine, forJudging, g.best)
	require.NoError(t, err)
	t.Logf("solved finely: found %.2f %% (%v), best of the grid's best %d %.2f %% (%v)", 100*found.Best.Verdict.After[2], found.Best.Verdict.Finish,
		len(g.best), 100*onGrid[0].Verdict.After[2], onGrid[0].Verdict.Finish)
	assert.GreaterOrEqual(t, found.Best.Verdict.After[2], 0.99*onGrid[0].Verdict.After[2])
}

// grid tries every place of an exhaustive grid of one diameter.
type grid struct {
	*search.Problem
	t       *testing.T
	patches station.Patches
	radius  float64

	lock    sync.Mutex
	tried   int
	best    []search.Candidate // the best few, best first
	sampled int                // stretches tried of axes outside the best fiftieth
	rest    search.Verdict     // the best of those
}

func (g *grid) run(ctx context.Context) error {
	began := time.Now()
	axes := g.axes()
	g.t.Logf("%d axes fit, found in %.0f s", len(axes), time.Since(began).Seconds())
	verdicts := make([]search.Verdict, len(axes))
	if err := sideBySide(ctx, len(axes), func(i int) error {
		verdicts[i] = g.try(ctx, axes[i])
		return nil
	}); err != nil {
		return err
	}
	g.t.Logf("tried as long as the clearance allows: %.0f s", time.Since(began).Seconds())
	order := make([]int, len(axes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return compare(verdicts[a], verdicts[b]) })
	best := len(order) / 50
	if err := g.stretches(ctx, axes, order[:best]); err != nil {
		return err
	}
	tried, kept := g.tried, g.best
	g.best = nil
	rest := order[best:]
	random := rand.New(rand.NewPCG(1, 2))
	random.Shuffle(len(rest), func(a, b int) { rest[a], rest[b] = rest[b], rest[a] })
	err := g.stretches(ctx, axes, rest[:len(rest)/500])
	g.sampled = g.tried - tried
	if len(g.best) > 0 {
		g.rest = g.best[0].Verdict
	}
	g.best = append(kept, g.best...)
	slices.SortStableFunc(g.best, func(a, b search.Candidate) int { return compare(a.Verdict, b.Verdict) })
	return err
}

// axes returns the places of the grid that fit, bare as far as the clearance allows.
func (g *grid) axes() []search.Place {
	o := &g.Space.Openings[0]
	down := g.Space.Surface.Normal.Scale(-1)
	a, b := down.Perpendicular()
	axis := o.Axis.Unit()
	u := geometry.V(1, 0, 0)
	u = u.AddScaled(axis, -u.Dot(axis)).Unit()
	v := axis.Cross(u)
	reach := int(o.Diameter / 2 / gridPlace)
	longest := g.Space.Steel.Bounds().Size().Norm()
	ways := directions(down, a, b)
	var starts []search.Place // with the tip in the opening's plane
	var toward []geometry.Vec
	for i := -reach; i <= reach; i++ {
		for k := -reach; k <= reach; k++ {
			through := o.Centre.AddScaled(u, float64(i)*gridPlace).AddScaled(v, float64(k)*gridPlace)
			for _, d := range ways {
				starts = append(starts, search.Place{U: float64(i) * gridPlace, V: float64(k) * gridPlace, Tip: through, Radius: g.radius})
				toward = append(toward, d)
			}
		}
	}
	fitted := make([][]search.Place, len(starts))
	_ = sideBySide(context.Background(), len(starts), func(i int) error {
		fitted[i] = g.depths(starts[i], toward[i], longest)
		return nil
	})
	return slices.Concat(fitted...)
}

// depths returns the places along one axis that fit, from the opening down to where the rod
// meets steel.
func (g *grid) depths(at search.Place, d geometry.Vec, longest float64) []search.Place {
	var out []search.Place
	for depth := gridDepth; depth < longest; depth += gridDepth {
		wish := at
		wish.Tip, wish.Bare = at.Tip.AddScaled(d, depth), geometry.Span{To: depth}
		p, misfit := g.Space.Fit(wish)
		switch {
		case misfit == nil:
			out = append(out, p)
		case misfit.Reason == search.NotThrough || misfit.Reason == search.HitsSteel:
			return out
		}
	}
	return out
}

// directions returns those that lie on a grid of leans about down, to 80 degrees.
func directions(down, a, b geometry.Vec) []geometry.Vec {
	var out []geometry.Vec
	for i := -16; i <= 16; i++ {
		for k := -16; k <= 16; k++ {
			lean := gridLean * math.Hypot(float64(i), float64(k))
			if lean > 80*math.Pi/180 {
				continue
			}
			aside := a.Scale(float64(i)).AddScaled(b, float64(k)).Unit()
			out = append(out, down.Scale(math.Cos(lean)).AddScaled(aside, math.Sin(lean)))
		}
	}
	return out
}

// stretches tries every stretch of the grid on some of the axes.
func (g *grid) stretches(ctx context.Context, axes []search.Place, which []int) error {
	return sideBySide(ctx, len(which), func(i int) error {
		whole := axes[which[i]]
		seen := map[search.Place]bool{whole: true}
		for from := 0.0; from < whole.Bare.To; from += gridBare {
			for to := from + gridBare; to < whole.Bare.To; to += gridBare {
				wish := whole
				wish.Bare = geometry.Span{From: from, To: to}
				if p, misfit := g.Space.Fit(wish); misfit == nil && !seen[p] {
					seen[p] = true
					g.try(ctx, p)
				}
			}
		}
		return nil
	})
}

// try judges a place that fits and keeps it if it is among the best.
func (g *grid) try(ctx context.Context, p search.Place) search.Verdict {
	rods := []geometry.Rod{g.Space.Rod(p)}
	e, err := g.Evaluator.Evaluate(ctx, rods)
	if err != nil || e.AnodeMost > mostOnAnode || math.IsNaN(e.Current) {
		return search.Verdict{}
	}
	c := search.Candidate{Places: []search.Place{p}, Rods: rods, Verdict: search.Judge(g.patches, g.Aim, &e)}
	c.Exposure = e
	g.lock.Lock()
	defer g.lock.Unlock()
	g.tried++
	if len(g.best) < 10 || c.Verdict.Better(g.best[len(g.best)-1].Verdict) {
		g.best = append(g.best, c)
		slices.SortStableFunc(g.best, func(a, b search.Candidate) int { return compare(a.Verdict, b.Verdict) })
		g.best = g.best[:min(10, len(g.best))]
	}
	return c.Verdict
}
