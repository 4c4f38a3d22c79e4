package multigrid

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry/lattice"
)

// ball returns the cells of a ball of radius n/2 cells, links of conductance 1 between
// them, and wall links of conductance 1/(theta + film) where a link leaves the ball.
func ball(n int, film float64) (*Operator, []Wall) {
	var keys []int32
	inside := func(i, j, k int) bool {
		c := float64(n-1) / 2
		return math.Hypot(math.Hypot(float64(i)-c, float64(j)-c), float64(k)-c) < float64(n)/2-1.3
	}
	for k := range n {
		for j := range n {
			for i := range n {
				if inside(i, j, k) {
					keys = append(keys, int32((k*n+j)*n+i))
				}
			}
		}
	}
	cells := lattice.Number([3]int{n, n, n}, keys)
	a := NewOperator(cells)
	var walls []Wall
	for m, key := range keys {
		i, j, k := int(key)%n, int(key)/n%n, int(key)/n/n
		for d, s := range [][3]int{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {-1, 0, 0}, {0, -1, 0}, {0, 0, -1}} {
			if inside(i+s[0], j+s[1], k+s[2]) {
				if d < 3 {
					a.Ahead[d][m+1] = 1
				}
				continue
			}
			theta := 0.1 + 0.8*float64((i*7+j*3+k*5)%10)/10
			side := Side(2 * (d % 3))
			if d < 3 {
				side++
			}
			walls = append(walls, Wall{Cell: int32(m) + 1, Side: side, Area: 1, Conductance: float32(1 / (theta + film))})
		}
	}
	return a, walls
}

func solveBall(n int, film float64) (Outcome, []float64, *Operator) {
	a, walls := ball(n, film)
	h := NewHierarchy(a, walls, 1)
	b, x := make([]float64, a.Len()+2), make([]float64, a.Len()+2)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range a.Len() {
		b[i+1] = r.Float64() - 0.3
	}
	out := h.Solve(context.Background(), a, x, b, NewWork(a.Len()), Settings{})
	return out, x, a
}

// The solution pushed back through the operator gives the right-hand side, and the
// number of iterations depends neither on the size nor on the film.
func TestIterationsDoNotGrow(t *testing.T) {
	for _, n := range []int{16, 32, 64} {
		for _, film := range []float64{0, 0.3, 3, 30, 300} {
			out, _, a := solveBall(n, film)
			assert.Equal(t, Converged, out.Status)
			assert.LessOrEqual(t, out.Iterations, 14, "n=%d film=%g", n, film)
			t.Logf("n=%d cells=%d film=%g: %d iterations, %.1e", n, a.Len(), film, out.Iterations, out.Residual)
		}
	}
}

// V-cycle symmetry: u·M v = v·M u, as conjugate gradients need it.
func TestCycleIsSymmetric(t *testing.T) {
	a, walls := ball(24, 0.5)
	h := NewHierarchy(a, walls, 1)
	r := rand.New(rand.NewPCG(3, 4))
	vec := func() []float64 {
		v := make([]float64, a.Len()+2)
		for i := range a.Len() {
			v[i+1] = r.NormFloat64()
		}
		return v
	}
	u, v, mu, mv := vec(), vec(), make([]float64, a.Len()+2), make([]float64, a.Len()+2)
	cycled := func(of, to []float64) {
		h.load(of, 1)
		h.cycle(0)
		for i, z := range h.levels[0].x {
			to[i] = float64(z)
		}
	}
	cycled(u, mu)
	cycled(v, mv)
	uv, vu, uu := dot(a, u, mv), dot(a, v, mu), dot(a, u, mu)
	assert.InDelta(t, uv, vu, 1e-5*uu) // the cycle runs in float32
	assert.Positive(t, uu)
}

func TestSameBitsOnAnyNumberOfCores(t *testing.T) {
	defer func(was func() int) { cores = was }(cores)
	cores = func() int { return 1 }
	_, want, _ := solveBall(40, 0.2)
	for _, n := range []int{2, 8} {
		cores = func() int { return n }
		_, got, _ := solveBall(40, 0.2)
		assert.Equal(t, want, got)
	}
}

// Solves side by side, of which only one at a time has the helpers, and a call within a call.
func TestSolvesSideBySide(t *testing.T) {
	defer func(was func() int) { cores = was }(cores)
	cores = func() int { return 4 }
	_, want, _ := solveBall(32, 0.2)
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			for range 5 {
				_, got, _ := solveBall(32, 0.2)
				assert.Equal(t, want, got)
			}
		})
	}
	wait.Wait()
	var count atomic.Int64
	each(10, func(int) { each(10, func(int) { count.Add(1) }) })
	assert.EqualValues(t, 100, count.Load())
}

// One iteration against one plain application of the seven-point operator in float64 over
// the same cells, on one core: the figure that counts is their ratio, "applications". Then on two:
// "faster" is by how much.
func BenchmarkIteration(b *testing.B) {
	a, walls := ball(90, 0)
	h := NewHierarchy(a, walls, 1)
	x, y := make([]float64, a.Len()+2), make([]float64, a.Len()+2)
	for i := range x {
		x[i] = 1
	}
	const iterations = 8
	w := NewWork(a.Len())
	timed := func(cores int, f func()) time.Duration {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		start := time.Now()
		f()
		return time.Since(start)
	}
	iterate := func() {
		clear(y)
		h.Solve(context.Background(), a, y, x, w, Settings{Tolerance: 1e-300, Iterations: iterations})
	}
	var plainly, own, one, two time.Duration
	for b.Loop() {
		plainly += timed(1, func() {
			for range iterations {
				plainTimes(a, y, x)
			}
		})
		own += timed(1, func() {
			for range iterations {
				a.Times(y, x)
			}
		})
		one += timed(1, iterate)
		two += timed(2, iterate)
	}
	each := float64(b.N*iterations) * float64(a.Len())
	b.ReportMetric(float64(plainly.Nanoseconds())/each, "application-ns/unknown")
	b.ReportMetric(float64(one.Nanoseconds())/each, "iteration-ns/unknown")
	b.ReportMetric(one.Seconds()/plainly.Seconds(), "applications")
	b.ReportMetric(one.Seconds()/own.Seconds(), "own-applications")
	b.ReportMetric(one.Seconds()/two.Seconds(), "times-faster-on-two")
}

// plainTimes sets y to A x as one would write it down: run by run of cells that have the same
// neighbours, each with its own conductances.
func plainTimes(a *Operator, y, x []float64) {
	for _, r := range a.Cells.Runs {
		f, e := r.First+1, r.End+1
		out, own := y[f:e], x[f:e]
		n := len(out)
		diag, c0, c1 := a.Diag[f:e][:n], a.Ahead[0][f-1 : e-1][:n], a.Ahead[0][f:e][:n]
		c2, c3, c4, c5 := a.back[0][f:e][:n], a.Ahead[1][f:e][:n], a.back[1][f:e][:n], a.Ahead[2][f:e][:n]
		v0, v1, v2, v3 := x[f-1 : e-1][:n], x[f+1 : e+1][:n], x[f+r.Step[0]:][:n], x[f+r.Step[1]:][:n]
		v4, v5 := x[f+r.Step[2]:][:n], x[f+r.Step[3]:][:n]
		for i := range out {
			out[i] = float64(diag[i])*own[i] - float64(c0[i])*v0[i] - float64(c1[i])*v1[i] - float64(c2[i])*v2[i] -
				float64(c3[i])*v3[i] - float64(c4[i])*v4[i] - float64(c5[i])*v5[i]
		}
	}
}
