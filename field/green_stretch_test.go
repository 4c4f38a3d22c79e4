package field

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// The lumps of a stretch at one potential carry what its bands carry.
func TestLumpsCarryTheBandsCurrent(t *testing.T) {
	for _, s := range []Stretch{
		{Radius: 5e-3, Sleeve: 7e-3, Length: 0.12, Above: 0.03},
		{Radius: 5e-3, Sleeve: 7e-3, Length: 0.12},
		{Radius: 4e-3, Sleeve: 4e-3, Length: 0.05, Below: 0.02, Endless: true},
	} {
		b := s.body()
		ones, q := mat.NewVecDense(b.metal, nil), mat.NewVecDense(b.metal, nil)
		for i := range b.metal {
			ones.SetVec(i, 1)
		}
		self := b.self.SliceSym(0, b.metal)
		require.NoError(t, q.SolveVec(self, ones))
		n := 9
		l, err := NewLumps(s, n)
		require.NoError(t, err)
		all, lumped := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
		for i := range n {
			all.SetVec(i, 1)
		}
		require.NoError(t, lumped.SolveVec(l.Self, all))
		assert.InEpsilon(t, mat.Sum(q), mat.Sum(lumped), 1e-6)
		t.Logf("%d bands of %d: lumps %.4g", b.metal, len(b.bands), mat.Formatted(lumped.T()))
	}
}

func BenchmarkLumps(b *testing.B) {
	s := Stretch{Radius: 5e-3, Sleeve: 7e-3, Length: 0.12, Above: 0.03}
	for b.Loop() {
		_, err := NewLumps(s, 9)
		require.NoError(b, err)
	}
}
