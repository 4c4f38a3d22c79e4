package multigrid

import (
	"math/rand/v2"
	"slices"
	"testing"
	"unsafe"

	"github.com/stretchr/testify/assert"
)

// randomLevel is a level whose cells' neighbours and parents are anywhere.
func randomLevel(r *rand.Rand, n int) (*manyLevel, *manyLevel) {
	k := &manyLevel{cells: make([]manyCell, n+2), up: make([]manyUp, n+2), x: randomVectors(r, n), b: randomVectors(r, n)}
	next := &manyLevel{x: randomVectors(r, n/8), b: randomVectors(r, n/8)}
	for i := 1; i <= n; i++ {
		c, up := &k.cells[i], &k.up[i]
		for d := range c.beside {
			c.beside[d], c.c[d] = r.Int32N(int32(n+2)), r.Float32()
		}
		c.diag, c.under = 6*r.Float32(), r.Float32()
		up.parent = r.Int32N(int32(n / 8))
		for d := range up.aside {
			up.aside[d] = r.Int32N(int32(n / 8))
		}
	}
	return k, next
}

func randomVectors(r *rand.Rand, n int) Vectors {
	v := make(Vectors, n+2)
	for i := range v {
		for l := range Lanes {
			v[i][l] = r.Float32() - 0.5
		}
	}
	return v
}

// The loops over lanes are the plain ones to the last bit, where a processor has its own.
func TestLanesAreThePlainLoops(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	k, next := randomLevel(r, 1000)
	plain, plainNext := *k, *next
	plain.x, plainNext.b, plainNext.x = slices.Clone(k.x), slices.Clone(next.b), slices.Clone(next.x)

	list := []int32{3, 1, 999, 1000, 3}
	k.relax(list)
	plain.relaxPlain(list)
	k.relax(nil)
	assert.Equal(t, plain.x, k.x)

	y, want := make(Vectors, len(k.x)), make(Vectors, len(k.x))
	k.times(y, k.x)
	plain.timesPlain(want, plain.x)
	assert.Equal(t, want, y)

	k.restrict(next)
	plain.restrictPlain(&plainNext)
	assert.Equal(t, plainNext.b, next.b)

	k.prolong(next)
	plain.prolongPlain(&plainNext)
	assert.Equal(t, plain.x, k.x)

	by := &[Lanes]float32{1, -2, 0.3, 4e-3, 0, 0.7, 11, -0.1}
	k.x.add(by, y)
	plain.x.addPlain(by, y)
	assert.Equal(t, plain.x, k.x)
	k.x.fold(by, y)
	plain.x.foldPlain(by, y)
	assert.Equal(t, plain.x, k.x)

	assert.Equal(t, productPlain(k.x, y), product(k.x, y))
	weights := []float32{0.1, 0.2, -0.3, 0.5, 7}
	assert.Equal(t, y.mixPlain(list, weights), y.Mix(list, weights))
	assert.Zero(t, y.Mix(nil, nil))
}

// The loops over lanes know these sizes by heart.
func TestLanesKnowTheirSizes(t *testing.T) {
	assert.EqualValues(t, 56, unsafe.Sizeof(manyCell{}))
	assert.EqualValues(t, 24, unsafe.Offsetof(manyCell{}.c))
	assert.EqualValues(t, 48, unsafe.Offsetof(manyCell{}.diag))
	assert.EqualValues(t, 52, unsafe.Offsetof(manyCell{}.under))
	assert.EqualValues(t, 16, unsafe.Sizeof(manyUp{}))
}
