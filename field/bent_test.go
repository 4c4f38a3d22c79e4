package field

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// A straight rod said in three legs is the same rod: the cut at its corners changes nothing.
func TestLegsOfAStraightRodAreOneRod(t *testing.T) {
	whole := boxProblem(t, 6e-3, 0.01)
	want, err := Solve(context.Background(), whole, Settings{})
	require.NoError(t, err)
	legs := boxProblem(t, 6e-3, 0.01)
	legs.Anodes[0].Rod.Path = []geometry.Vec{mm(100, 140, 40), mm(100, 140, 90), mm(100, 140, 127), mm(100, 140, 230)}
	got, err := Solve(context.Background(), legs, Settings{})
	require.NoError(t, err)
	assert.InEpsilon(t, want.Current, got.Current, 1e-3)
}

// Where the plastic begins right before a corner, it goes on behind it: the rod is the same
// rod still, to how closely both are solved.
func TestPlasticGoesOnBehindACorner(t *testing.T) {
	whole := boxProblem(t, 6e-3, 0.01)
	whole.Anodes[0].Rod.Bare = []geometry.Span{{From: 0, To: 0.05}}
	want, err := Solve(context.Background(), whole, Settings{})
	require.NoError(t, err)
	for _, corner := range []float64{48, 50, 52} { // mm from the tip
		legs := boxProblem(t, 6e-3, 0.01)
		legs.Anodes[0].Rod.Bare = whole.Anodes[0].Rod.Bare
		legs.Anodes[0].Rod.Path = []geometry.Vec{mm(100, 140, 40), mm(100, 140, 40+corner), mm(100, 140, 230)}
		got, err := Solve(context.Background(), legs, Settings{})
		require.NoError(t, err)
		assert.InEpsilon(t, want.Current, got.Current, 2e-4, "corner %g mm from the tip", corner)
	}
}

// A rod bent at its middle drives more current than the same length hung plumb in the
// corner of the box, and its mirror image in the box's own plane drives the same.
func TestABentRodAndItsMirrorImage(t *testing.T) {
	bent := func(y float64) float64 {
		p := boxProblem(t, 6e-3, 0.01)
		p.Anodes[0].Rod.Path = []geometry.Vec{mm(250, 125+y, 60), mm(120, 125, 90), mm(100, 125, 230)}
		s, err := Solve(context.Background(), p, Settings{})
		require.NoError(t, err)
		assert.InDelta(t, 1, s.Balance, 1e-4)
		return s.Current
	}
	assert.InEpsilon(t, bent(40), bent(-40), 1e-6)
}
