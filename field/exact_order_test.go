package field

import (
	"context"
	"fmt"
	"math"
	"os"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/electrode"
	"evenwall/geometry"
)

// cellMisfit returns the L2 error of an eccentric cell's wall current, percent.
func cellMisfit(t *testing.T, c cell) misfit {
	if c.film == 0 {
		all, _ := c.rig(c.potential).solve(t).read()
		return compare(all, inMiddle(func(p *reading) float64 { return c.wallCurrent(math.Atan2(p.Centre.Y, p.Centre.X)) }))
	}
	exact := newBipolar(c)
	all, _ := c.rig(exact.potential).solve(t).read()
	return compare(all, inMiddle(func(p *reading) float64 {
		sin, cos := math.Sincos(math.Atan2(p.Centre.Y, p.Centre.X))
		return exact.potential(geometry.V(shellRadius*cos, shellRadius*sin, 0)) / c.film
	}))
}

// orderOf returns the order at which an error falls over the spacings, each half the one
// before: the mean over all halvings.
func orderOf(t *testing.T, name string, spacings []float64, off func(h float64) float64) float64 {
	var e []float64
	for _, h := range spacings {
		e = append(e, off(h))
	}
	last := len(e) - 1
	order := math.Log2(e[0]/e[last]) / float64(last)
	t.Logf("%s: wall current L2 %.3g %% at %g mm: order %.2f", name, e, 1000*spacings[0], order)
	return order
}

// The wall current converges at second order, a film on an oblique wall at first or more.
func TestOrderOfWallCurrent(t *testing.T) {
	spacings := []float64{8e-3, 4e-3}
	if os.Getenv("EVENWALL_LONG") != "" {
		spacings = append(spacings, 2e-3)
	}
	assert.GreaterOrEqual(t, orderOf(t, "sphere", spacings, func(h float64) float64 { return ball{0.030, h, 0}.misfit(t).l2 }), 1.6)
	assert.GreaterOrEqual(t, orderOf(t, "sphere, film 0.02", spacings, func(h float64) float64 { return ball{0.030, h, 0.02}.misfit(t).l2 }), 1.2)
}

func TestOrderOfWallCurrentOffTheAxis(t *testing.T) {
	longOnly(t)
	spacings := []float64{8e-3, 4e-3, 2e-3}
	for _, film := range []float64{0, 0.02} {
		name := fmt.Sprintf("rod 50 mm off the axis, film %g", film)
		order := orderOf(t, name, spacings, func(h float64) float64 { return cellMisfit(t, cell{offset: 0.050, h: h, film: film}).l2 })
		assert.GreaterOrEqual(t, order, map[float64]float64{0: 1.6, 0.02: 1.2}[film], name)
	}
}

// At 2 mm: rods off the axis, film 0.
func TestExactEccentricFine(t *testing.T) {
	longOnly(t)
	for _, offset := range []float64{0.030, 0.050, 0.080} {
		m := cellMisfit(t, cell{offset: offset, h: 2e-3})
		r := exactRow{what: fmt.Sprintf("rod %.0f mm off the axis, 2 mm", 1000*offset), against: "exact (images)"}
		r.measured(t, "wall current L2", m.l2, 0.2)
		r.measured(t, "its worst", m.most, 0.5)
		r.report(t)
	}
}

// Iterations to 1e-8 over spacings and films: every round's together.
func TestIterationsHardlyGrow(t *testing.T) {
	spacings := []float64{8e-3, 4e-3}
	if testing.Short() {
		spacings = spacings[:1]
	}
	sweepIterations(t, spacings)
}

func TestIterationsHardlyGrowFine(t *testing.T) {
	longOnly(t)
	sweepIterations(t, []float64{3e-3, 2e-3, 1.5e-3})
}

func sweepIterations(t *testing.T, spacings []float64) {
	r := exactRow{what: "iterations to 1e-8", against: "at most 14"}
	most := 0
	for _, h := range spacings {
		for _, film := range []float64{0, 1e-3, 0.02, 0.2, 2} {
			s, err := Solve(context.Background(), boxProblem(t, h, film), Settings{})
			require.NoError(t, err)
			t.Logf("%g mm, film %g ohm m2: %d iterations in %d rounds, residual %.1e", 1000*h, film, s.Outcome.Iterations, s.Rounds, s.Outcome.Residual)
			most = max(most, s.Outcome.Iterations)
		}
	}
	r.measured(t, "iterations", float64(most), 14)
	r.report(t)
}

// The same bits come of 1, 2 and 8 goroutines.
func TestSameBitsOnAnyCores(t *testing.T) {
	ref := references(t)[0]
	f := ref.fill(t, Grid{Spacing: 7e-3})
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	var current float64
	var wall []float64
	for i, cores := range []int{1, 2, 8} {
		runtime.GOMAXPROCS(cores)
		p := ref.problem(f)
		p.Wall = electrode.DefaultWall()
		s, err := Solve(context.Background(), p, Settings{})
		require.NoError(t, err)
		j, _ := s.WallCurrent(f.Recovery())
		if i == 0 {
			current, wall = s.Current, j
			continue
		}
		assert.Equal(t, current, s.Current, "%d goroutines", cores)
		assert.Equal(t, wall, j, "%d goroutines", cores)
	}
}
