package plan

import (
	"context"
	"math"
	"os"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/search"
	"evenwall/field/station"
	"evenwall/geometry"
)

// The layout found, against the best of an exhaustive grid under the same limits and
// against the plumb rod, on the demo tank and on the reference saddle. It looks some
// tens of thousands of layouts up: run with EVENWALL_LONG=1.
func TestLayoutAgainstAnExhaustiveGrid(t *testing.T) {
	if os.Getenv("EVENWALL_LONG") == "" {
		t.Skip("takes minutes: set EVENWALL_LONG=1")
	}
	for _, path := range []string{"../../demo.yaml", "../../../../testdata/cases/saddle-tilted/job.yaml"} {
		j, err := job.Load(path)
		require.NoError(t, err)
		if j.Supply.Limit == 0 {
			j.Supply.Voltage, j.Supply.Limit, j.Supply.DeadGiven = 12, 6, false // the reference drives 9 V through films alone
			j.Wall = job.Law{Exchange: 0.03, Slope: 0.12}
		}
		tank, err := NewTank(context.Background(), j, j.First().Attitude)
		require.NoError(t, err)
		h, err := tank.newHunt(j.First())
		require.NoError(t, err)
		require.NoError(t, h.screen.build(context.Background()))
		p := h.problem()
		found, err := search.Search(context.Background(), p, h.settings())
		require.NoError(t, err)
		best := found.Best.Verdict
		grid, tried := exhaust(t, p, found.Patches)
		t.Logf("%s: found %.2f %% after 10 days (nearly %.4f, ever %v), best of %d on the grid %.2f %% (%.4f, %v), plumb rod %.2f %% (%.4f)", j.Title,
			100*best.After[2], best.Nearly, best.Finish, tried, 100*grid.After[2], grid.Nearly, grid.Finish, 100*found.Naive.Verdict.After[2], found.Naive.Verdict.Nearly)
		assert.GreaterOrEqual(t, best.After[2], 0.99*grid.After[2])
		if grid.Finish.Ever {
			assert.True(t, best.Finish.Ever)
			assert.LessOrEqual(t, best.Finish.Seconds, 1.01*grid.Finish.Seconds)
		}
	}
}

// exhaust judges every place of a grid that fits: where the rod passes the opening every
// 7 mm, its tip every 20 mm in the tank, bare as long as the clearance allows or half of it.
func exhaust(t *testing.T, p *search.Problem, patches station.Patches) (search.Verdict, int) {
	box := p.Space.Steel.Bounds()
	var wishes []search.Place
	for _, u := range []float64{-0.014, -0.007, 0, 0.007, 0.014} {
		for _, v := range []float64{-0.014, -0.007, 0, 0.007, 0.014} {
			for x := box.Min.X + 0.02; x < box.Max.X; x += 0.02 {
				for y := box.Min.Y + 0.02; y < box.Max.Y; y += 0.02 {
					for z := box.Min.Z + 0.03; z < box.Max.Z-0.02; z += 0.02 {
						for _, bare := range []float64{0.5, 1} {
							tip := geometry.V(x, y, z)
							length := tip.Dist(p.Space.Openings[0].Centre)
							wishes = append(wishes, search.Place{U: u, V: v, Tip: tip, Radius: p.Space.Radii[len(p.Space.Radii)/2],
								Bare: geometry.Span{To: bare * length}})
						}
					}
				}
			}
		}
	}
	var best search.Verdict
	tried, next := 0, 0
	var lock sync.Mutex
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for {
				lock.Lock()
				i := next
				next++
				lock.Unlock()
				if i >= len(wishes) {
					return
				}
				place, misfit := p.Space.Fit(wishes[i])
				if misfit != nil {
					continue
				}
				e, err := p.Evaluator.Evaluate(context.Background(), []geometry.Rod{p.Space.Rod(place)})
				if err != nil || e.AnodeMost > mostOnAnode || math.IsNaN(e.Current) {
					continue
				}
				v := search.Judge(patches, p.Aim, &e)
				lock.Lock()
				tried++
				if v.Better(best) {
					best = v
				}
				lock.Unlock()
			}
		})
	}
	all.Wait()
	return best, tried
}
