package search

import (
	"context"
	"errors"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

func found(t *testing.T, p *Problem, s Settings) *Result {
	t.Helper()
	r, err := Search(context.Background(), p, s)
	require.NoError(t, err)
	return r
}

// quick is a search of few layouts, for tests that ask for no particular answer.
func quick() Settings {
	return Settings{AnodeLimit: 1e9, Reach: 24, Scatter: 24, Refine: 48, Climbers: 2}
}

func TestSameOnAnyNumberOfCores(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	p.Space.Radii = []float64{0.004, 0.005}
	cores := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(cores)
	var first *Result
	for _, n := range []int{1, 2, 8} {
		runtime.GOMAXPROCS(n)
		s := quick()
		s.Count, s.Stations, s.Price = 2, 2, 1
		r := found(t, p, s)
		if first == nil {
			first = r
		}
		require.Equal(t, first, r, "%d cores", n)
	}
}

// The reachable wall is the same whatever is compared on it.
func TestReachableDependsOnNoSeedAndNoStart(t *testing.T) {
	p, g := problem(newBoxTank(0.8, 0.3, 0.2, 0.3), 0.04)
	g.limit = 1.5
	s := quick()
	alone, err := Reachable(context.Background(), p, s)
	require.NoError(t, err)
	area := alone.ReachableArea()
	assert.Greater(t, area, 0.0)
	assert.Less(t, area, 0.99*areaOf(p.Area), "a field too weak for the far end must leave some")
	s.Seed, s.Scatter, s.Count = 9, 30, 2
	p.Start = [][]geometry.Rod{{plumb(p, 0.1)}}
	assert.Equal(t, alone, found(t, p, s).Patches)
}

func plumb(p *Problem, depth float64) geometry.Rod {
	tip := p.Space.Openings[0].Centre.Add(geometry.V(0, 0, -depth))
	return p.Space.Rod(Place{Tip: tip, Radius: p.Space.Radii[0], Bare: geometry.Span{To: depth - 0.03}})
}

func TestNeverWorseThanTheStart(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	good := found(t, p, unlimited())
	p.Start = [][]geometry.Rod{good.Best.Rods, {plumb(p, 0.15)}}
	s := quick()
	s.Reach, s.Scatter, s.Refine = 96, 1, 1 // as good as no search
	r := found(t, p, s)
	for i, start := range r.Starts {
		assert.Nil(t, start.Misfit, "start %d", i)
		assert.False(t, start.Verdict.Better(r.Best.Verdict), "start %d", i)
	}
	assert.Equal(t, good.Best.Verdict, r.Starts[0].Verdict)
}

func TestAStartThatBreaksTheClearanceIsJudgedButNotTaken(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	p.Start = [][]geometry.Rod{{plumb(p, 0.19)}, {plumb(p, 0.21)}} // 10 mm above the floor, and through it
	r := found(t, p, quick())
	require.NotNil(t, r.Starts[0].Misfit)
	assert.Equal(t, TooNear, r.Starts[0].Misfit.Reason)
	assert.InDelta(t, 0.015, r.Starts[0].Misfit.By, 1e-9)
	assert.NotEmpty(t, r.Starts[0].Exposure.Rate)
	assert.Equal(t, HitsSteel, r.Starts[1].Misfit.Reason)
	assert.Nil(t, r.Best.Misfit)
}

// Everything returned keeps the limits, by the exact measure.
func TestResultsKeepTheLimits(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	s := quick()
	s.Count = 2
	r := found(t, p, s)
	require.NotEmpty(t, r.Alternatives)
	for _, c := range append(r.Alternatives, r.Best) {
		require.Nil(t, c.Misfit)
		require.Nil(t, p.Space.apart(c.Rods))
		for i := range c.Rods {
			require.Nil(t, p.Space.Holds(&c.Rods[i]))
		}
		assert.False(t, c.Verdict.Better(r.Best.Verdict))
	}
	assert.Equal(t, r.Tally.Tried, r.Tally.Fit()+countOf(r.Tally))
}

// A filler of 20 mm with 3 mm of play at its rim lets one rod of 10 mm through, and never two side by side: 12 mm
// are to be between their metal. What keeps two out is each other; three are not tried.
func TestTwoThatMeetAreCounted(t *testing.T) {
	b := newBoxTank(0.4, 0.3, 0.2, 0.1)
	b.filler.Diameter = 0.020
	p, _ := problem(b, 0.04)
	p.Space.Clearance = 0.004
	s := quick()
	s.Count = 3
	r := found(t, p, s)
	assert.Len(t, r.Best.Rods, 1)
	two := &r.Tally.ByRods[2]
	assert.Positive(t, two.Tried)
	assert.Zero(t, two.Used())
	assert.Equal(t, RodsMeet, two.Why())
	assert.Zero(t, r.Tally.ByRods[3].Tried)
	assert.Equal(t, r.Tally.Tried, r.Tally.ByRods[1].Tried+two.Tried)
}

func countOf(t Tally) int {
	n := 0
	for _, r := range t.Reasons() {
		n += t.Misfits[r]
	}
	return n
}

// exhaustive returns the least finish over a grid of tips, a way through the opening and
// bare stretches, one thickness, under the same limits and on the same wall.
func exhaustive(p *Problem, r *Result, step float64) Verdict {
	best := Verdict{}
	box := p.Space.under()
	for x := box.Min.X; x <= box.Max.X; x += step {
		for y := box.Min.Y; y <= 0; y += step { // the other half is its mirror
			for z := box.Min.Z; z <= box.Max.Z; z += step {
				for from := 0.0; from < 0.2; from += 2 * step {
					for _, to := range []float64{from + 0.04, from + 0.08, from + 0.12, math.Inf(1)} {
						for _, u := range []float64{-0.016, 0, 0.016} {
							wish := Place{U: u, Tip: geometry.V(x, y, z), Radius: p.Space.Radii[0], Bare: geometry.Span{From: from, To: to}}
							fit, miss := p.Space.Fit(wish)
							if miss != nil {
								continue
							}
							e, _ := p.Evaluator.Evaluate(context.Background(), []geometry.Rod{p.Space.Rod(fit)})
							if v := Judge(r.Patches, p.Aim, &e); v.Better(best) {
								best = v
							}
						}
					}
				}
			}
		}
	}
	return best
}

// Against every place of a grid, on tanks where the best is not obvious: a filler off the
// middle, and one near an end of a flat tank. The default is made for slow evaluators.
func TestAgainstAnExhaustiveGrid(t *testing.T) {
	for _, b := range []boxTank{newBoxTank(0.4, 0.3, 0.2, 0.1), newBoxTank(0.6, 0.2, 0.15, 0.1)} {
		p, _ := problem(b, 0.04)
		usual := found(t, p, unlimited())
		ample := unlimited()
		ample.Scatter, ample.Refine, ample.Climbers = 200, 800, 4
		long := found(t, p, ample)
		grid := exhaustive(p, long, 0.03)
		require.True(t, grid.Finish.Ever)
		assert.LessOrEqual(t, usual.Best.Verdict.Finish.Seconds, 1.03*grid.Finish.Seconds, "%+v", b.box)
		assert.LessOrEqual(t, long.Best.Verdict.Finish.Seconds, 1.01*grid.Finish.Seconds, "%+v", b.box)
	}
}

// In a tall square tank with its filler in the middle the best rod hangs plumb on the
// axis, by symmetry; and mirrored tanks have mirrored answers, as good.
func TestSymmetry(t *testing.T) {
	p, _ := problem(newBoxTank(0.2, 0.2, 0.5, 0), 0.04)
	r := found(t, p, unlimited())
	angle, _ := p.Space.Lean(r.Best.Places[0])
	tip := r.Best.Places[0].Tip
	assert.Less(t, math.Hypot(tip.X, tip.Y), 0.010)
	assert.Less(t, angle, 3*math.Pi/180)

	left, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	right, _ := problem(newBoxTank(0.4, 0.3, 0.2, -0.1), 0.04)
	a, b := found(t, left, unlimited()), found(t, right, unlimited())
	assert.InEpsilon(t, a.Best.Verdict.Finish.Seconds, b.Best.Verdict.Finish.Seconds, 0.02)
	assert.Negative(t, a.Best.Places[0].Tip.X, "the rod leans towards the far end")
	assert.Positive(t, b.Best.Places[0].Tip.X)
}

func TestInterrupted(t *testing.T) {
	p, g := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	ctx, cancel := context.WithCancel(context.Background())
	s := unlimited()
	s.Progress = func(stage Stage, step, steps int) {
		assert.LessOrEqual(t, step, steps)
		if stage == Scattering && step > 10 {
			cancel()
		}
	}
	_, err := Search(ctx, p, s)
	require.ErrorIs(t, err, context.Canceled)
	assert.LessOrEqual(t, g.calls.Load(), int64(96+40), "nothing is evaluated once it is cancelled")
}

type broken struct{}

var errBroken = errors.New("no figure")

func (broken) Evaluate(context.Context, []geometry.Rod) (Exposure, error) {
	return Exposure{}, errBroken
}

func TestAnEvaluatorsErrorIsPassedOn(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	p.Evaluator = broken{}
	_, err := Search(context.Background(), p, quick())
	require.ErrorIs(t, err, errBroken)
}

func TestNoWayThrough(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.045, 0), 0.04) // 45 mm deep: 25 mm above and below leave no room for a rod of 10 mm
	_, err := Search(context.Background(), p, quick())
	var none *NoWayError
	require.ErrorAs(t, err, &none)
	require.NotNil(t, none.Nearest)
	assert.Equal(t, none.Tally.Tried, countOf(none.Tally))
	assert.Less(t, none.Nearest.By, 0.025)
}

// Rods too small for the current they would carry must not win.
func TestAnodeLimitHolds(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	s := quick()
	s.AnodeLimit = 1100
	r := found(t, p, s)
	assert.LessOrEqual(t, r.Best.Exposure.AnodeMost, 1100.0)
	assert.Positive(t, r.Tally.Misfits[OverLimit])
	s.AnodeLimit = 1
	_, err := Search(context.Background(), p, s)
	var none *NoWayError
	require.ErrorAs(t, err, &none)
}

func TestProblemsThatCannotBePosed(t *testing.T) {
	for name, spoil := range map[string]func(p *Problem, s *Settings){
		"no rod":               func(p *Problem, _ *Settings) { p.Space.Radii = nil },
		"no patches":           func(p *Problem, _ *Settings) { p.Area = nil },
		"no opening":           func(p *Problem, _ *Settings) { p.Space.Openings = nil },
		"under water":          func(p *Problem, _ *Settings) { p.Space.Surface.Offset += 0.01 },
		"no steel":             func(p *Problem, _ *Settings) { p.Space.Steel = geometry.NewTree(&geometry.Mesh{}) },
		"no aim":               func(p *Problem, _ *Settings) { p.Aim.Charge = 0 },
		"four rods":            func(_ *Problem, s *Settings) { s.Count = 4 },
		"seven positions":      func(_ *Problem, s *Settings) { s.Stations = 7 },
		"a negative clearance": func(p *Problem, _ *Settings) { p.Space.Clearance = -1 },
	} {
		p, g := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.08)
		s := quick()
		spoil(p, &s)
		_, err := Search(context.Background(), p, s)
		assert.Error(t, err, name)
		assert.Zero(t, g.calls.Load(), name)
	}
}
