package multigrid

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry/lattice"
)

// Sweeps over runs do to the last bit what cells one by one do, whatever the length of a run and
// the colour that it begins with.
func TestRunsAreTheirCells(t *testing.T) {
	a, _ := ball(19, 0.2)
	r := rand.New(rand.NewPCG(3, 4))
	x, b := make([]float32, a.Len()+2), make([]float32, a.Len()+2)
	for i := 1; i <= a.Len(); i++ {
		x[i], b[i] = r.Float32()-0.5, r.Float32()-0.5
	}
	one := slices.Clone(x)
	for _, c := range []colour{red, black} {
		relax(a, x, b, c)
		for _, run := range a.Cells.Runs {
			for n := run.First; n < run.End; n++ {
				if odd := run.Odd != ((n-run.First)%2 == 1); odd == bool(c) {
					relaxCell(a, n+1, &run.Step, one, b)
				}
			}
		}
		assert.Equal(t, one, x)
	}
	got, want := make([]float32, len(x)), make([]float32, len(x))
	residual(a, got, x, b)
	a.eachRun(func(run lattice.Run) {
		for n := run.First + 1; n <= run.End; n++ {
			want[n] = b[n] - applyCell(a, n, &run.Step, x)
		}
	})
	assert.Equal(t, want, got)
}
