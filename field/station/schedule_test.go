package station

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// By hand. Two patches, two stations, all of the wall: 10 and 2 A/m² here, 2 and 5 A/m²
// there. 10 x + 2 y = 150 and 2 x + 5 y = 150 (A h/m²) give y = 600/23 h and x = 225/23 h.
func TestTwoByTwoByHand(t *testing.T) {
	p := Patches{Area: []float64{1, 1}}
	s, err := Plan(p, aimFor(1), [][]float64{{10, 2}, {2, 5}})
	require.NoError(t, err)
	assert.InDelta(t, 225.0/23, s.Seconds[0]/hour, 1e-6)
	assert.InDelta(t, 600.0/23, s.Seconds[1]/hour, 1e-6)
	assert.InDelta(t, 825.0/23, s.Finish.Seconds/hour, 1e-6)
	assert.InDelta(t, s.Total(), s.Bound, 1e-6*s.Total())
	assert.InDelta(t, 150*hour, s.Charge[0], 1e-3*hour)
	assert.InDelta(t, 150*hour, s.Charge[1], 1e-3*hour)

	// In order: after one day the first patch has 225/23 · 10 + (24 − 225/23) · 2 = 126 A h/m².
	after := s.ReachedAfter(day, 3*day, 10*day)
	assert.Equal(t, []float64{0, 1, 1}, after)
}

// By hand: half of the wall is asked for, and the first station alone gives it to the
// first patch in 15 h.
func TestAShareThatOneStationServes(t *testing.T) {
	p := Patches{Area: []float64{1, 1}}
	s, err := Plan(p, aimFor(0.5), [][]float64{{10, 2}, {2, 5}})
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{15 * hour, 0}, s.Seconds, 1e-3)
	assert.InDelta(t, 0.5, s.ReachedAfter(15 * hour)[0], 1e-12)
}

func TestOutOfReachPlansForWhatIsReached(t *testing.T) {
	p := Patches{Area: []float64{1, 1, 2}}
	s, err := Plan(p, aimFor(1), [][]float64{{10, 0, 0}, {0, 5, 0}})
	require.NoError(t, err)
	assert.False(t, s.Finish.Ever)
	assert.InDeltaSlice(t, []float64{15 * hour, 30 * hour}, s.Seconds, 1e-3)
	assert.InDelta(t, 0.5, s.ReachedAfter(10 * day)[0], 1e-12)
}

func TestPlanRefuses(t *testing.T) {
	p := Patches{Area: []float64{1, 1}}
	_, err := Plan(p, usual(), nil)
	require.Error(t, err)
	_, err = Plan(p, usual(), [][]float64{{1}})
	require.ErrorContains(t, err, "station 1")
	_, err = Plan(p, Aim{}, [][]float64{{1, 1}})
	require.Error(t, err)
}

func TestOneStationIsTheQuantile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, rates := drawWall(t, rapid.IntRange(1, 40).Draw(t, "patches"), 1)
		a := aimFor(float64(rapid.IntRange(1, 100).Draw(t, "percent")) / 100)
		s, err := Plan(p, a, rates)
		require.NoError(t, err)
		want := p.Finish(a, rates[0])
		require.Equal(t, want.Ever, s.Finish.Ever)
		require.InDelta(t, want.Seconds, s.Finish.Seconds, 1e-6*want.Seconds)
	})
}

// leastTotal tries every set of patches that makes up the share and every corner of its
// programme for two stations: no simplex method, no choosing.
func leastTotal(p Patches, a Aim, rates [][]float64) float64 {
	best := math.Inf(1)
	for set := range 1 << len(p.Area) {
		area, members := 0.0, []int(nil)
		for i := range p.Area {
			if set>>i&1 == 1 && p.counts(i) {
				area, members = area+p.Area[i], append(members, i)
			}
		}
		if area >= a.Share*p.ReachableArea()-1e-9 {
			best = min(best, leastForTwo(members, rates)*a.Charge)
		}
	}
	return best
}

// leastForTwo tries every place where two limits meet.
func leastForTwo(members []int, rates [][]float64) float64 {
	type line struct{ x, y, least float64 }
	lines := []line{{1, 0, 0}, {0, 1, 0}}
	for _, i := range members {
		lines = append(lines, line{rates[0][i], rates[1][i], 1})
	}
	best := math.Inf(1)
	for i, l := range lines {
		for _, m := range lines[:i] {
			det := l.x*m.y - m.x*l.y
			if det == 0 {
				continue
			}
			x, y := (l.least*m.y-m.least*l.y)/det, (l.x*m.least-m.x*l.least)/det
			ok := true
			for _, n := range lines {
				ok = ok && n.x*x+n.y*y >= n.least-1e-9
			}
			if ok {
				best = min(best, x+y)
			}
		}
	}
	return best
}

func TestAllOfTheWallAgreesWithBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, rates := drawWall(t, rapid.IntRange(1, 7).Draw(t, "patches"), 2)
		a := aimFor(1)
		s, err := Plan(p, a, rates)
		require.NoError(t, err)
		least := leastTotal(p, a, rates)
		if p.ReachableArea() == 0 {
			return
		}
		require.Equal(t, !math.IsInf(least, 1), s.Finish.Ever)
		if s.Finish.Ever {
			require.InDelta(t, least, s.Finish.Seconds, 1e-6*least)
		}
	})
}

// The share is chosen by a heuristic: never below the least total of all choices, its own
// bound below both, and its charges as promised.
func TestAShareAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, rates := drawWall(t, rapid.IntRange(1, 7).Draw(t, "patches"), 2)
		a := aimFor(float64(rapid.IntRange(30, 99).Draw(t, "percent")) / 100)
		s, err := Plan(p, a, rates)
		require.NoError(t, err)
		if !s.Finish.Ever {
			return
		}
		least := leastTotal(p, a, rates)
		require.GreaterOrEqual(t, s.Total(), least*(1-1e-6))
		require.LessOrEqual(t, s.Total(), least*1.05, "how far the heuristic may be off on a handful of patches")
		require.LessOrEqual(t, s.Bound, s.Total()*(1+1e-12))
		area := 0.0
		for i, in := range s.Needed {
			if in {
				require.GreaterOrEqual(t, s.Charge[i], a.Charge*(1-1e-6))
				area += p.Area[i]
			}
		}
		require.GreaterOrEqual(t, area, a.Share*p.ReachableArea()*(1-1e-9))
		require.GreaterOrEqual(t, s.ReachedAfter(s.Total() * (1 + 1e-6))[0], a.Share*(1-1e-9))
	})
}

func TestAStationAddedNeverTakesLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, rates := drawWall(t, rapid.IntRange(1, 30).Draw(t, "patches"), 4)
		a := aimFor(float64(rapid.IntRange(50, 100).Draw(t, "percent")) / 100)
		before := Finish{}
		for k := range rates {
			s, err := Plan(p, a, rates[:k+1])
			require.NoError(t, err)
			require.False(t, before.Before(s.Finish) && s.Finish.Seconds > before.Seconds*(1+1e-9) || before.Ever && !s.Finish.Ever)
			before = s.Finish
		}
	})
}

// sources makes rates of n patches on the walls of a box, one metre wide, about k points:
// an inverse square with the noise of a coarse solution.
func sources(n, k int) (Patches, [][]float64) {
	random := rand.New(rand.NewPCG(7, 11))
	p, rates := Patches{}, make([][]float64, k)
	for range n {
		p.Area = append(p.Area, 1.0/float64(n))
		x, y := random.Float64(), random.Float64()
		for s := range rates {
			d2 := sq(x-(float64(s)+0.5)/float64(k)) + sq(y-0.5) + 0.04
			rates[s] = append(rates[s], usual().Rate(1/d2*(1+0.01*random.Float64())))
		}
	}
	return p, rates
}

func sq(x float64) float64 { return x * x }

func TestManyPatchesStayNearTheirBound(t *testing.T) {
	p, rates := sources(20000, 3)
	s, err := Plan(p, usual(), rates)
	require.NoError(t, err)
	require.True(t, s.Finish.Ever)
	assert.InDelta(t, s.Total(), s.Bound, 1e-5*s.Total())
	one := p.Finish(usual(), rates[1])
	assert.Less(t, s.Total(), one.Seconds, "three places in turn beat the middle one")
	assert.InDelta(t, s.Seconds[0], s.Seconds[2], 0.1*s.Total(), "the wall is the same on both sides but for noise")
}

func BenchmarkPlan(b *testing.B) {
	p, rates := sources(30000, 4)
	for b.Loop() {
		if _, err := Plan(p, usual(), rates); err != nil {
			b.Fatal(err)
		}
	}
}
