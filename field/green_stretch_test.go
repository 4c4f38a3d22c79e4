package field

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"evenwall/geometry"
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

// From 60 mm away in any direction the lumps of a short stretch between plastic make what its
// bands make, plastic and all; as points on the axis they are off by much more.
func TestLumpsFromAfar(t *testing.T) {
	s := Stretch{Radius: 5e-3, Sleeve: 7e-3, Length: 0.02, Below: 0.02, Endless: true}
	b := s.body()
	ones, q := mat.NewVecDense(b.metal, nil), mat.NewVecDense(b.columns(), nil)
	for i := range b.metal {
		ones.SetVec(i, 1)
	}
	require.NoError(t, q.SliceVec(0, b.metal).(*mat.VecDense).SolveVec(b.self.SliceSym(0, b.metal), ones))
	const n = 4
	l, err := NewLumps(s, n)
	require.NoError(t, err)
	lumped, all := mat.NewVecDense(n, nil), mat.NewVecDense(n, []float64{1, 1, 1, 1})
	require.NoError(t, lumped.SolveVec(l.Self, all))
	off := func(p geometry.Vec, shift, spread float64) float64 {
		bands := make([]float64, b.columns())
		b.fields(p, bands)
		want, got := mat.Dot(mat.NewVecDense(len(bands), bands), q), 0.0
		for k := range n {
			d := p.Sub(geometry.V(0, 0, s.Below+s.Length*float64(k)/(n-1)+shift*l.Shift[k]))
			r, cos := d.Norm(), d.Z/d.Norm()
			got += lumped.AtVec(k) * (1 + spread*l.Spread[k]*(1.5*cos*cos-0.5)/(r*r)) / (4 * math.Pi * r)
		}
		return math.Abs(got/want - 1)
	}
	for _, p := range []geometry.Vec{geometry.V(0.06, 0, 0.03), geometry.V(0, 0, 0.09), geometry.V(0, 0, -0.03), geometry.V(0.04, 0, 0.07), geometry.V(0.04, 0.02, -0.01)} {
		t.Logf("%v: off by %.1e, as points %.1e", p, off(p, 1, 1), off(p, 0, 0))
		assert.Less(t, off(p, 1, 1), 4e-3, "%v", p) // the third degree is left out
		assert.Less(t, off(p, 1, 1), off(p, 0, 0)/3, "%v", p)
	}
}
