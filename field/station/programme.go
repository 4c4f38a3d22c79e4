package station

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// programme is the linear programme of least total time: times t >= 0 at the stations
// such that every needed patch has Σ rate · t >= 1. Time is in units of the charge needed.
type programme struct {
	rates  [][]float64 // of each station, one rate a patch
	needed []int       // patches
}

// cover is a solution: times, and a value that no solution can go below.
type cover struct {
	times []float64
	bound float64
}

// total returns the sum of the times.
func (c cover) total() float64 { return sum(c.times) }

const (
	cutsAtOnce = 4    // patches added to the small programme in a round
	cutRounds  = 60   // at most; each adds cutsAtOnce patches
	tight      = 1e-7 // relative gap between total and bound at which the rounds stop
)

// solve finds the times by cutting planes: it solves the programme for a few patches,
// adds those that come off worst and repeats. The small programme asks less than the whole one, so its
// value is a bound; its times, scaled until the worst patch has enough, are a solution.
func (g *programme) solve() (cover, error) {
	times := make([]float64, len(g.rates))
	for s := range times {
		times[s] = 1
	}
	var rows []int
	best := cover{}
	for range cutRounds {
		worst, least := g.worst(times)
		if len(worst) == 0 {
			return cover{times: make([]float64, len(times))}, nil
		}
		if least > 0 {
			if t := sum(times) / least; best.times == nil || t < best.total() {
				best.times = scaled(times, 1/least)
			}
			if best.total()-best.bound <= tight*best.total() {
				break
			}
		}
		added := false
		for _, i := range worst {
			if !contains(rows, i) {
				rows, added = append(rows, i), true
			}
		}
		if !added {
			break
		}
		small, bound, err := g.small(rows)
		if err != nil {
			return cover{}, err
		}
		times, best.bound = small, math.Max(best.bound, bound)
	}
	if best.times == nil {
		return cover{}, fmt.Errorf("no times at %d stations give all of %d patches their charge", len(g.rates), len(g.needed))
	}
	return best, nil
}

// worst returns the patches that the times serve worst, the worst first, and what that one gets.
func (g *programme) worst(times []float64) (patches []int, least float64) {
	var got [cutsAtOnce]float64
	for _, i := range g.needed {
		v := g.at(i, times)
		if len(patches) == cutsAtOnce && v >= got[cutsAtOnce-1] {
			continue
		}
		if len(patches) < cutsAtOnce {
			patches = append(patches, i)
		}
		k := len(patches) - 1
		for ; k > 0 && got[k-1] > v; k-- {
			got[k], patches[k] = got[k-1], patches[k-1]
		}
		got[k], patches[k] = v, i
	}
	return patches, got[0]
}

// at returns what patch i gets in the given times.
func (g *programme) at(i int, times []float64) float64 {
	v := 0.0
	for s, t := range times {
		v += t * g.rates[s][i]
	}
	return v
}

// small solves the programme for a few patches by the simplex method, as its dual: prices
// y >= 0 of the patches with Σ rate · y <= 1 at each station, of greatest sum. That form
// has a row a station and starts from y = 0. The times are the prices of its rows, and the
// sum of y is a bound for the total. The ones on the right are moved apart by a billionth
// and less: on ties the simplex method may go round for ever.
func (g *programme) small(rows []int) (times []float64, bound float64, err error) {
	m, n, unit := len(g.rates), len(rows), g.most(rows)
	a := mat.NewDense(m, n+m, nil)
	c, b, slack := make([]float64, n+m), make([]float64, m), make([]int, m)
	for s, rate := range g.rates {
		for k, i := range rows {
			a.Set(s, k, rate[i]/unit)
		}
		a.Set(s, n+s, 1)
		b[s] = 1 - apart*frac(float64(s+1)*math.Phi)
		slack[s] = n + s
	}
	for k := range rows {
		c[k] = -1
	}
	value, y, err := lp.Simplex(c, a, b, 1e-12, slack)
	if err != nil {
		return nil, 0, fmt.Errorf("the linear programme for %d stations and %d patches: %w", m, n, err)
	}
	if times, err = pricesOf(a, c, y); err != nil {
		return nil, 0, fmt.Errorf("the linear programme for %d stations and %d patches: %w", m, n, err)
	}
	return scaled(times, 1/unit), -value / unit, nil
}

const apart = 1e-9

func frac(x float64) float64 { return x - math.Floor(x) }

// pricesOf returns the row prices t of a basic solution: a column in use costs what its
// rows are worth.
func pricesOf(a *mat.Dense, c, y []float64) ([]float64, error) {
	m, _ := a.Dims()
	var used []int
	for k, v := range y {
		if v > 0 {
			used = append(used, k)
		}
	}
	basis, cost := mat.NewDense(len(used), m, nil), mat.NewVecDense(len(used), nil)
	for row, k := range used {
		cost.SetVec(row, -c[k])
		for s := range m {
			basis.Set(row, s, a.At(s, k))
		}
	}
	var t mat.VecDense
	if err := t.SolveVec(basis, cost); err != nil && !errors.As(err, new(mat.Condition)) {
		return nil, err
	}
	times := make([]float64, m)
	for s := range times {
		times[s] = math.Max(0, t.AtVec(s))
	}
	return times, nil
}

// most returns the greatest rate at any station of the patches.
func (g *programme) most(rows []int) float64 {
	most := 0.0
	for _, rate := range g.rates {
		for _, i := range rows {
			most = math.Max(most, rate[i])
		}
	}
	return most
}

func sum(x []float64) float64 {
	total := 0.0
	for _, v := range x {
		total += v
	}
	return total
}

func scaled(x []float64, by float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = v * by
	}
	return out
}

func contains(list []int, i int) bool {
	for _, v := range list {
		if v == i {
			return true
		}
	}
	return false
}
