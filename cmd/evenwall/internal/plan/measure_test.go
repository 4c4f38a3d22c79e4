package plan

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
)

// A shape's volume by formula, by its facets and by counting cells, within half a per cent.
func TestVolumesAgree(t *testing.T) {
	jobs, err := filepath.Glob("../../../../testdata/jobs/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, jobs)
	for _, path := range append(jobs, "../../demo.yaml") {
		j, err := job.Load(path)
		require.NoError(t, err)
		a, err := Measure(context.Background(), j, func(string, int, int) {})
		require.NoError(t, err)
		v := a.Result.Volumes
		assert.InEpsilon(t, v.FacetsL, v.LatticeL, 0.005, path)
		if assert.NotNil(t, v.FormulaL, path) {
			assert.InEpsilon(t, *v.FormulaL, v.FacetsL, 0.005, path)
		}
	}
}

// The saddle's filler as it was drawn, see testdata/stl/README.md; the drum and the box are
// closed all over.
func TestOpeningsFoundInTheReferenceTanks(t *testing.T) {
	found := map[string]int{"saddle-tilted": 1, "drum-sleeved": 0, "box-baffle": 0}
	for name, n := range found {
		tank, want := referenceTank(t, name)
		s := tank.surface()
		assert.Len(t, s.OpeningsMM, n, name)
		v, err := tank.volumes()
		require.NoError(t, err)
		assert.InEpsilon(t, want.Enclosed, v.LatticeL, 0.005, name)
		if n == 1 {
			assert.InDeltaSlice(t, []float64{-60, 12, 190}, s.OpeningsMM[0].CentreMM[:], 0.05)
			assert.InDelta(t, 60, s.OpeningsMM[0].DiameterMM, 0.05)
		}
	}
}

// The same job gives the same bytes.
func TestMeasureIsTheSameEveryTime(t *testing.T) {
	j, err := job.Load(filepath.Join(casesFolder, "box-baffle", "job.yaml"))
	require.NoError(t, err)
	bytes := func() string {
		a, err := Measure(context.Background(), j, func(string, int, int) {})
		require.NoError(t, err)
		text, err := a.Result.JSON()
		require.NoError(t, err)
		return string(text)
	}
	assert.Equal(t, bytes(), bytes())
}
