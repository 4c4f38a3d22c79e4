package field

import (
	"context"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// offsets are eight places of the lattice under a tank, spacings.
var offsets = [...][2]float64{{0, 0}, {0.5, 0}, {0, 0.5}, {0.5, 0.5}, {0.25, 0.1}, {-0.3, 0.2}, {0.15, -0.4}, {-0.1, -0.25}}

// offsetWorst holds what the worst place of the lattice makes of a reference tank, percent.
type offsetWorst struct{ current, percentiles, behind, closure float64 }

// over solves the tank at the places of the lattice.
func (r *reference) over(t *testing.T, places [][2]float64) (w offsetWorst) {
	worse := func(most *float64, off float64) { *most = math.Max(*most, math.Abs(off)) }
	for _, place := range places {
		f := r.fill(t, Grid{Spacing: DefaultSpacing(0), Shift: place})
		rec := f.Recovery()
		s, err := Solve(context.Background(), r.problem(f), Settings{})
		require.NoError(t, err)
		j, closure := s.WallCurrent(rec)
		u := NewUniformity(rec.Patches.All, j)
		worse(&w.current, percent(s.Current, r.want.Current))
		worse(&w.closure, 100*(closure-1))
		for _, q := range r.held() {
			off := percent(u.Percentile(float64(q)/100), r.want.Percentile[strconv.Itoa(q)])
			if q == 25 && r.baffle != "" {
				worse(&w.behind, off)
				continue
			}
			worse(&w.percentiles, off)
		}
		t.Logf("%s, lattice shifted by %v: current %+.3f %%, so far %+v", r.name, place, percent(s.Current, r.want.Current), w)
	}
	return w
}

// held returns the percentiles that are compared: at film 0 the lowest live in creases and
// at the filler's rim, and behind a baffle 25 is the one.
func (r *reference) held() []int {
	if r.wall == 0 || r.baffle != "" {
		return []int{25, 50, 75, 95}
	}
	return []int{5, 25, 50, 75, 95}
}

// The reference tanks wherever the lattice falls.
func TestReferenceTanksOnEightLattices(t *testing.T) {
	longOnly(t)
	for _, ref := range references(t) {
		t.Run(ref.name, func(t *testing.T) {
			w := ref.over(t, offsets[:])
			r := exactRow{what: "reference tank " + ref.name + ", worst of eight lattices", against: "second-order finite elements"}
			r.measured(t, "current", w.current, 0.3)
			r.measured(t, "percentiles to p95", w.percentiles, 1.5)
			r.measured(t, "p25, behind the baffle", w.behind, 4)
			r.measured(t, "closure", w.closure, 0.5)
			r.report(t)
		})
	}
}
