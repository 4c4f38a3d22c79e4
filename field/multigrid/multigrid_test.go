package multigrid

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
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
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	_, want, _ := solveBall(40, 0.2)
	for _, cores := range []int{2, 8} {
		runtime.GOMAXPROCS(cores)
		_, got, _ := solveBall(40, 0.2)
		assert.Equal(t, want, got)
	}
}

// One iteration against one plain application of the seven-point operator in float64 over
// the same cells: the figure that counts is their ratio, "applications". Run it with
// -cpu 1,2.
func BenchmarkIteration(b *testing.B) {
	a, walls := ball(90, 0)
	h := NewHierarchy(a, walls, 1)
	x, y := make([]float64, a.Len()+2), make([]float64, a.Len()+2)
	for i := range x {
		x[i] = 1
	}
	const iterations = 8
	w := NewWork(a.Len())
	apply, iterate := time.Duration(0), time.Duration(0)
	for b.Loop() {
		start := time.Now()
		for range iterations {
			Apply(a, y, x)
		}
		apply += time.Since(start)
		start = time.Now()
		clear(y)
		h.Solve(context.Background(), a, y, x, w, Settings{Tolerance: 1e-300, Iterations: iterations})
		iterate += time.Since(start)
	}
	b.ReportMetric(float64(apply.Nanoseconds())/float64(b.N*iterations)/float64(a.Len()), "apply-ns/unknown")
	b.ReportMetric(float64(iterate.Nanoseconds())/float64(b.N*iterations)/float64(a.Len()), "iteration-ns/unknown")
	b.ReportMetric(iterate.Seconds()/apply.Seconds(), "applications")
}
