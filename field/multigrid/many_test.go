package multigrid

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Eight right-hand sides side by side give what each gives alone; an empty lane stays 0.
func TestManyAgreesWithOne(t *testing.T) {
	for _, film := range []float64{0, 3} {
		a, area := ball(32, film)
		h := NewHierarchy(a, area, 1)
		m := NewMany(h).Copy()
		r := rand.New(rand.NewPCG(3, 4))
		x, b := make(Vectors, a.Len()+2), make(Vectors, a.Len()+2)
		for l := range Lanes - 1 {
			for range 20 { // points, as it is meant for
				b[1+r.IntN(a.Len())][l] = float32(r.NormFloat64())
			}
		}
		out := m.Solve(context.Background(), x, b, Settings{Tolerance: 1e-6})
		assert.Equal(t, Converged, out.Status)
		for l := range Lanes {
			alone, one := make([]float64, a.Len()+2), make([]float64, a.Len()+2)
			for n := range one {
				one[n] = float64(b[n][l])
			}
			h.Solve(context.Background(), a, alone, one, NewWork(a.Len()), Settings{Tolerance: 1e-10})
			far, size := 0.0, 0.0
			for n := range alone {
				far, size = math.Max(far, math.Abs(alone[n]-float64(x[n][l]))), math.Max(size, math.Abs(alone[n]))
			}
			assert.LessOrEqual(t, far, 1e-5*size, "film %g lane %d", film, l)
		}
	}
}

// What a lane costs beside a solve of its own.
func BenchmarkMany(b *testing.B) {
	a, area := ball(38, 1)
	h := NewHierarchy(a, area, 1)
	b.Run("one", func(b *testing.B) {
		x, v, w := make([]float64, a.Len()+2), make([]float64, a.Len()+2), NewWork(a.Len())
		v[a.Len()/2] = 1
		for b.Loop() {
			clear(x)
			h.Solve(context.Background(), a, x, v, w, Settings{Tolerance: 1e-5})
		}
	})
	b.Run("lanes", func(b *testing.B) {
		m, x, v := NewMany(h), make(Vectors, a.Len()+2), make(Vectors, a.Len()+2)
		for l := range Lanes {
			v[a.Len()/2+100*l][l] = 1
		}
		for b.Loop() {
			m.Solve(context.Background(), x, v, Settings{Tolerance: 1e-5})
		}
	})
}
