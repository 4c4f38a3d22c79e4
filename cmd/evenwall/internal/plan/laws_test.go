package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/station"
)

// By hand, two patches alike, all of the wall asked for at 150 A h/m2 and 1 A/m2 at least:
// evenly 0.9 A/m2 counts as nothing with a threshold, 0.8 and 30 work half of the wall, so the
// second is ahead. As given they take 150/0.9 h and 150/0.8 h, and so by the square root, in the
// ratio of the roots: the first is ahead.
func TestOrderByThreeLawsByHand(t *testing.T) {
	h := &hunt{Tank: &Tank{Job: &job.Job{Aim: job.Aim{Charge: 150 * 3600, Least: 1, Most: 50, Share: 1}}}}
	patches := station.Patches{Area: []float64{1, 1}}
	even := shownLayout{name: "even", densities: [][]float64{{0.9, 0.9}}}
	uneven := shownLayout{name: "uneven", densities: [][]float64{{0.8, 30}}}
	l := h.byLaws(patches, []shownLayout{even, uneven})
	assert.Equal(t, []string{"uneven", "even", "even"}, l.First)
	assert.False(t, l.Kept)
	assert.Nil(t, l.Layouts[0].Hours[0])
	require.NotNil(t, l.Layouts[0].Hours[1])
	assert.InEpsilon(t, 150/0.9, *l.Layouts[0].Hours[1], 1e-12)
	assert.InEpsilon(t, 150/0.8, *l.Layouts[1].Hours[1], 1e-12)
	assert.Equal(t, []float64{0.5, 1, 1}, l.Layouts[1].TenDays)
	twice := shownLayout{name: "twice as much", densities: [][]float64{{1.8, 1.8}}}
	assert.True(t, h.byLaws(patches, []shownLayout{twice, even}).Kept)
	turns := shownLayout{densities: [][]float64{{1, 3}, {3, 1}}, seconds: []float64{5, 5}}
	assert.InEpsilon(t, 75.0, *h.byLaws(patches, []shownLayout{turns}).Layouts[0].Hours[0], 1e-12, "2 A/m2 on the average")
}
