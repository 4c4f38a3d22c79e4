package station

import (
	"math"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const (
	hour = 3600.0
	day  = 24 * hour
)

// usual is the aim of common practice: 150 A h/m², 1 to 50 A/m², 95 %.
func usual() Aim { return Aim{Charge: 150 * hour, Least: 1, Most: 50, Share: 0.95} }

func aimFor(share float64) Aim {
	a := usual()
	a.Share = share
	return a
}

func TestWorkingRate(t *testing.T) {
	a := usual()
	for j, want := range map[float64]float64{-3: 0, 0: 0, 0.999: 0, 1: 1, 7: 7, 50: 50, 80: 50, math.NaN(): 0} {
		assert.Equal(t, want, a.Rate(j), "%g A/m²", j)
	}
}

// Where two laws must agree: charge counted alike between least and most, and the square
// root meeting it at the geometric mean, √50 A/m².
func TestLawsMeet(t *testing.T) {
	a := usual()
	for _, j := range []float64{1, 5, 50} {
		assert.Equal(t, AsGiven.Rate(a, j), Threshold.Rate(a, j))
	}
	mean := math.Sqrt(50)
	assert.InDelta(t, mean, Root.Rate(a, mean), 1e-12)
	assert.InDelta(t, 2*Root.Rate(a, 3), Root.Rate(a, 12), 1e-12, "four times the current, twice the rate")
	for _, l := range Laws() {
		assert.Zero(t, l.Rate(a, -1), l.String())
		assert.Zero(t, l.Rate(a, math.NaN()), l.String())
	}
	assert.Equal(t, 100.0, AsGiven.Rate(a, 100))
	assert.Equal(t, 0.5, AsGiven.Rate(a, 0.5))
}

func TestAimCheck(t *testing.T) {
	require.NoError(t, usual().Check())
	for _, a := range []Aim{
		{}, {Charge: math.NaN(), Least: 1, Most: 2, Share: 1}, {Charge: 1, Least: 3, Most: 2, Share: 1},
		{Charge: 1, Least: 1, Most: math.Inf(1), Share: 1}, {Charge: 1, Least: 1, Most: 2, Share: 1.1},
	} {
		assert.Error(t, a.Check(), "%+v", a)
	}
}

// By hand: 150 A h/m² at 10 A/m² take 15 h, at 5 A/m² 30 h; the last 5 % get nothing.
func TestOneStationByHand(t *testing.T) {
	p := Patches{Area: []float64{0.60, 0.35, 0.05, 7}, Reachable: []bool{true, true, true, false}}
	rate := Threshold.Rates(usual(), []float64{10, 5, 0.5, 0})
	assert.Equal(t, Finish{true, 30 * hour}, p.Finish(usual(), rate))
	assert.Equal(t, Finish{true, 15 * hour}, p.Finish(aimFor(0.6), rate))
	assert.Equal(t, Finish{}, p.Finish(aimFor(0.96), rate))
	assert.Equal(t, 0.0, p.Reached(usual(), rate, 14*hour))
	assert.InDelta(t, 0.60, p.Reached(usual(), rate, 15*hour), 1e-12)
	assert.InDelta(t, 0.95, p.Reached(usual(), rate, 10*day), 1e-12)
}

func TestNothingReachableNeverFinishes(t *testing.T) {
	p := Patches{Area: []float64{1}, Reachable: []bool{false}}
	assert.Equal(t, Finish{}, p.Finish(usual(), []float64{10}))
	assert.Zero(t, p.Reached(usual(), []float64{10}, day))
	s, err := Plan(p, usual(), [][]float64{{10}})
	require.NoError(t, err)
	assert.Equal(t, Finish{}, s.Finish)
	assert.Zero(t, s.Total())
	assert.Equal(t, []float64{0}, s.ReachedAfter(day))
}

func drawWall(t *rapid.T, patches, stations int) (Patches, [][]float64) {
	p := Patches{}
	for range patches {
		p.Area = append(p.Area, float64(rapid.IntRange(1, 9).Draw(t, "area")))
		p.Reachable = append(p.Reachable, rapid.IntRange(0, 5).Draw(t, "reachable") > 0)
	}
	rates := make([][]float64, stations)
	for s := range rates {
		for range patches {
			rates[s] = append(rates[s], max(0, float64(rapid.IntRange(-3, 20).Draw(t, "rate"))))
		}
	}
	return p, rates
}

// The quantile by sorting, the definition itself.
func TestFinishAgreesWithSorting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, rates := drawWall(t, rapid.IntRange(1, 60).Draw(t, "patches"), 1)
		a := aimFor(float64(rapid.IntRange(1, 100).Draw(t, "percent")) / 100)
		var order []int
		for i := range p.Area {
			if p.Reachable[i] {
				order = append(order, i)
			}
		}
		sort.Slice(order, func(i, k int) bool { return rates[0][order[i]] > rates[0][order[k]] })
		want, area := Finish{}, 0.0
		for _, i := range order {
			area += p.Area[i]
			if area >= a.Share*p.ReachableArea()-1e-9 {
				if rates[0][i] > 0 {
					want = Finish{true, a.Charge / rates[0][i]}
				}
				break
			}
		}
		got := p.Finish(a, rates[0])
		require.Equal(t, want, got)
		if got.Ever { // and by the other door
			require.GreaterOrEqual(t, p.Reached(a, rates[0], got.Seconds), a.Share-1e-12)
			require.Less(t, p.Reached(a, rates[0], got.Seconds*(1-1e-6)), a.Share)
		}
	})
}

func TestBefore(t *testing.T) {
	assert.True(t, Finish{true, 5}.Before(Finish{true, 6}))
	assert.True(t, Finish{true, 5}.Before(Finish{}))
	assert.False(t, Finish{}.Before(Finish{true, 5}))
	assert.False(t, Finish{}.Before(Finish{}))
}
