package table

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field"
	"evenwall/field/search"
)

// Random layouts of one to three rods by the table, against the solve of each on a fine
// lattice: current, wall current by area, percentiles under 1 % of the mean left out, and the
// greatest density on metal. A few layouts at 4 mm; with EVENWALL_LONG 200 at 3 mm. The bounds
// are what is asked of a table, for 95 of 100 layouts and for all, but for the density on metal:
// that is what is reached, nothing is asked of it.
func TestTableAgainstTheFineSolve(t *testing.T) {
	spacing, n := 4e-3, 10
	if os.Getenv("EVENWALL_LONG") != "" {
		spacing, n = 3e-3, 200
	}
	s := newSaddle(t, spacing)
	tab, err := Build(context.Background(), s.coarse, s.rough, s.settings())
	require.NoError(t, err)
	t.Logf("%d nodes, %d patches", len(tab.boxes.nodes), len(tab.patches))
	r := rand.New(rand.NewPCG(7, 8))
	var all []far
	for range n {
		rods := s.layout(r, 3)
		e, err := tab.Evaluate(context.Background(), rods)
		require.NoError(t, err)
		all = append(all, compare(e, tab.patches, s.solve(t, s.settings(), rods, s.fine, s.exact)))
	}
	hold := func(name string, most, ofAll float64, of func(far) float64) {
		d := distribution(all, of)
		t.Logf("%-8s %v", name, d)
		if n >= 100 {
			assert.LessOrEqual(t, d.most(0.95), most, name)
		}
		assert.LessOrEqual(t, d.most(1), ofAll, name)
	}
	hold("current", 0.003, 0.006, func(f far) float64 { return f.current })
	hold("metal", 0.08, 0.16, func(f far) float64 { return f.most })
	for i, q := range shares {
		most := 0.015
		if q > 0.90 {
			most = 0.03
		}
		hold(fmt.Sprintf("p%.0f", 100*q), most, 2*most, func(f far) float64 { return f.percentile[i] })
	}
}

var shares = [7]float64{0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95}

// far is by how much figures of one layout differ, as shares of the fine solve's; NaN where
// left out.
type far struct {
	current, most float64
	percentile    [len(shares)]float64
}

func compare(e search.Exposure, patches []field.Patch, with solved) far {
	u := field.NewUniformity(patches, e.Rate)
	f := far{current: e.Current/with.current - 1, most: e.AnodeMost/with.most - 1}
	for i, q := range shares {
		f.percentile[i] = math.NaN()
		if want := with.even.Percentile(q); want >= 0.01*with.even.Mean() {
			f.percentile[i] = u.Percentile(q)/want - 1
		}
	}
	return f
}

// sizes is a figure's differences over layouts, sorted by size.
type sizes []float64

func distribution(all []far, of func(far) float64) (s sizes) {
	for _, f := range all {
		if v := of(f); !math.IsNaN(v) {
			s = append(s, v)
		}
	}
	slices.SortFunc(s, func(a, b float64) int { return int(math.Copysign(1, math.Abs(a)-math.Abs(b))) })
	return s
}

// most returns the size that a share of the layouts keeps to.
func (s sizes) most(share float64) float64 {
	if len(s) == 0 {
		return 0
	}
	return math.Abs(s[min(len(s)-1, int(math.Ceil(share*float64(len(s))))-1)])
}

func (s sizes) String() string {
	if len(s) == 0 {
		return "none"
	}
	signed := slices.Sorted(slices.Values(s))
	return fmt.Sprintf("median %+.2f %%, size: half %.2f, 90 of 100 %.2f, 95 of 100 %.2f, all %.2f (%+.2f … %+.2f), n %d", 100*signed[len(s)/2],
		100*s.most(0.5), 100*s.most(0.9), 100*s.most(0.95), 100*s.most(1), 100*signed[0], 100*signed[len(s)-1], len(s))
}
