package station

import (
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
	best := cover{bound: 0}
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
		small, err := g.small(rows)
		if err != nil {
			return cover{}, err
		}
		times, best.bound = small, math.Max(best.bound, sum(small)*(1-1e-9))
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

// small solves the programme for a few patches by the simplex method.
func (g *programme) small(rows []int) ([]float64, error) {
	used, unit := g.useful(rows)
	n, m := len(used), len(rows)
	a := mat.NewDense(m, n+m, nil)
	c, b := make([]float64, n+m), make([]float64, m)
	for k, i := range rows {
		for col, s := range used {
			a.Set(k, col, g.rates[s][i]/unit)
		}
		a.Set(k, n+k, -1)
		b[k] = 1
	}
	for col := range used {
		c[col] = 1
	}
	_, x, err := lp.Simplex(c, a, b, 1e-10, nil)
	if err != nil {
		return nil, fmt.Errorf("the linear programme for %d stations and %d patches: %w", n, m, err)
	}
	times := make([]float64, len(g.rates))
	for col, s := range used {
		times[s] = math.Max(0, x[col]) / unit
	}
	return times, nil
}

// useful returns the stations that serve any of the patches, and the greatest rate.
func (g *programme) useful(rows []int) (stations []int, most float64) {
	for s, rate := range g.rates {
		top := 0.0
		for _, i := range rows {
			top = math.Max(top, rate[i])
		}
		if top > 0 {
			stations = append(stations, s)
		}
		most = math.Max(most, top)
	}
	return stations, most
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
