package plan

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/search"
)

// How far the table, whose wall is kinetic by zones, ranks layouts as solving each with
// kinetics does, by the share reached after ten days and by how nearly all is reached. A few
// layouts against the coarse lattice; with EVENWALL_LONG many against the fine one.
func TestTableRanksLayoutsAsSolvingDoes(t *testing.T) {
	ctx, n := context.Background(), 16
	j, err := job.Load("../../demo.yaml")
	require.NoError(t, err)
	tank, err := NewTank(ctx, j, j.First().Attitude)
	require.NoError(t, err)
	h, err := tank.newHunt(j.First())
	require.NoError(t, err)
	require.NoError(t, h.screen.build(ctx))
	basin := h.coarse
	if isLong() {
		n = 60
		basin, err = tank.NewBasin(0)
		require.NoError(t, err)
	}
	p := h.problem()
	found, err := search.Search(ctx, p, search.Settings{Reach: 2 * n, Scatter: 3 * n, Refine: 1, Keep: n - 1, AnodeLimit: mostOnAnode})
	require.NoError(t, err)
	var reached, nearly [2][]float64
	for _, c := range append([]search.Candidate{found.Best}, found.Alternatives...) {
		s, err := basin.solve(ctx, h.anodes(&c), forJudging)
		require.NoError(t, err)
		e := s.exposure(s.onto(h.coarse, c.Exposure.Rate))
		v := search.Judge(found.Patches, p.Aim, &e)
		for i, v := range [2]search.Verdict{c.Verdict, v} {
			reached[i] = append(reached[i], v.After[2])
			nearly[i] = append(nearly[i], v.Nearly)
		}
	}
	require.Greater(t, len(reached[0]), n/2)
	for name, v := range map[string][2][]float64{"reached after ten days": reached, "nearly reached": nearly} {
		rank := stat.Correlation(ranks(v[0]), ranks(v[1]), nil)
		t.Logf("%s: rank correlation %.3f over %d layouts", name, rank, len(v[0]))
		assert.Greater(t, rank, 0.9, name) // Spearman's; 1 is the same order
	}
}

// ranks returns each value's place in order.
func ranks(v []float64) []float64 {
	sorted := slices.Sorted(slices.Values(v))
	out := make([]float64, len(v))
	for i, x := range v {
		at, _ := slices.BinarySearch(sorted, x)
		out[i] = float64(at)
	}
	return out
}
