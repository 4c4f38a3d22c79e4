package table

import (
	"context"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field"
	"evenwall/field/electrode"
	"evenwall/field/search"
	"evenwall/geometry"
)

// On 1, 2 and 8 goroutines tables and what they answer are the same to the last bit.
func TestSameOnAnyCores(t *testing.T) {
	s := newSaddle(t, 12e-3)
	set := s.settings()
	set.Wall = electrode.DefaultWall()
	r := rand.New(rand.NewPCG(3, 4))
	layout := s.layout(r, 2)
	var first search.Exposure
	for i, cores := range []int{1, 2, 8} {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		tab, err := Build(context.Background(), s.fine, s.exact, set)
		require.NoError(t, err)
		e, err := tab.Evaluate(context.Background(), layout)
		require.NoError(t, err)
		if i == 0 {
			first = e
			continue
		}
		assert.Equal(t, first, e, "%d goroutines", cores)
	}
}

// What is nearer to steel than the table reaches, dry or without thickness is an error.
func TestWhatATableDoesNotHold(t *testing.T) {
	s := newSaddle(t, 12e-3)
	tab, err := Build(context.Background(), s.fine, s.exact, s.settings())
	require.NoError(t, err)
	hung := s.layout(rand.New(rand.NewPCG(3, 4)), 1)[0]
	ask := func(change func(r *geometry.Rod)) error {
		r := hung
		r.Path = slices.Clone(hung.Path)
		change(&r)
		_, err := tab.Evaluate(context.Background(), []geometry.Rod{r})
		return err
	}
	assert.NoError(t, ask(func(*geometry.Rod) {}))
	assert.ErrorIs(t, ask(func(r *geometry.Rod) { r.Path[0].Z, r.Path[1].Z = 0.3, 0.4 }), field.ErrDry)
	assert.ErrorContains(t, ask(func(r *geometry.Rod) { r.Radius = 0 }), "no thickness")
	var outside *OutsideError
	assert.ErrorAs(t, ask(func(r *geometry.Rod) { r.Path[0].X = 0.215; r.Path[1].X = 0.215 }), &outside) // the wall is at 220 mm
}
