package multigrid

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Sweeps over stretches do to the last bit what the plain loops do, whatever the length of a
// stretch and the colour that it begins with.
func TestSweepsArePlainLoops(t *testing.T) {
	for _, n := range []int{19, 40} {
		a, walls := ball(n, 0.2)
		h := NewHierarchy(a, walls, 1)
		r := rand.New(rand.NewPCG(3, 4))
		x, b := make([]float32, a.Len()+2), make([]float32, a.Len()+2)
		for i := 1; i <= a.Len(); i++ {
			x[i], b[i] = r.Float32()-0.5, r.Float32()-0.5
		}
		for _, w := range []*swath{&a.all, &a.rim} {
			for _, c := range []colour{red, black} {
				one := slices.Clone(x)
				relax(a, w, x, b, c)
				for _, p := range w.parts {
					relaxPlainly(a, p.stretches, one, b, c)
				}
				assert.Equal(t, one, x)
			}
		}
		got, want := make([]float32, len(x)), make([]float32, len(x))
		residual(a, got, x, b)
		y, times, plainly := make([]float64, len(x)), make([]float64, len(x)), make([]float64, len(x))
		for i, v := range x {
			y[i] = float64(v)
		}
		a.Times(times, y)
		for _, p := range a.all.parts {
			residualPlainly(a, p.stretches, want, x, b)
			applyPlainly(a, p.stretches, plainly, y)
		}
		assert.Equal(t, want, got)
		assert.Equal(t, plainly, times)
		l, next := h.levels[0], h.levels[1]
		l.down.restrict(next.a, next.b, got)
		sums, coarse := &transfer{children: l.down.children, linked: l.down.linked, total: make([]float32, len(next.b))}, make([]float32, len(next.b))
		for axis := range sums.high {
			sums.high[axis] = make([]float32, len(next.b))
		}
		for _, k := range slices.Concat(l.down.parts...) {
			if k.whole {
				collectPlainly(sums, &k, 0, got)
				continue
			}
			for n := k.first; n < k.first+k.n; n++ {
				sums.collectOne(n, got)
			}
		}
		assert.Equal(t, sums.total, l.down.total)
		assert.Equal(t, sums.high, l.down.high)
		for _, s := range allOf(next.a.all.parts) {
			if s.plain {
				gatherPlainly(sums, &s, coarse)
				for n := s.first; n < s.first+s.n; n++ {
					one := coarse[n]
					sums.gatherOne(&s, n, coarse)
					assert.InDelta(t, coarse[n], one, 1e-5)
					coarse[n] = one
				}
				continue
			}
			for n := s.first; n < s.first+s.n; n++ {
				sums.gatherOne(&s, n, coarse)
			}
		}
		assert.Equal(t, coarse, next.b)
		one := slices.Clone(x)
		l.down.prolong(x, coarse)
		for _, k := range slices.Concat(l.down.parts...) {
			if k.whole && k.plain {
				raisePlainly(&k, 0, one, coarse)
				continue
			}
			for n := k.first; n < k.first+k.n; n++ {
				sums.raiseOne(&k.stretch, n, one, coarse)
			}
		}
		assert.Equal(t, one, x)
	}
}

func allOf(parts []part) (all []stretch) {
	for _, p := range parts {
		all = append(all, p.stretches...)
	}
	return all
}
