package field

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// offsets are eight places of the lattice under a tank, spacings.
var offsets = [...][2]float64{{0, 0}, {0.5, 0}, {0, 0.5}, {0.5, 0.5}, {0.25, 0.1}, {-0.3, 0.2}, {0.15, -0.4}, {-0.1, -0.25}}

// offsetWorst holds what the worst place of the lattice makes of a reference tank, percent.
type offsetWorst struct{ current, percentiles, behind, closure, median, nine float64 }

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
		median, nine := r.probed(rec, j)
		worse(&w.median, median)
		worse(&w.nine, nine)
		for _, q := range r.held() {
			off := percent(u.Percentile(float64(q)/100), r.want.Percentile[strconv.Itoa(q)])
			if q == 25 && r.baffle != "" {
				worse(&w.behind, off)
				continue
			}
			worse(&w.percentiles, off)
		}
		t.Logf("%s, lattice shifted by %v: current %+.3f %%, so far %+.2f", r.name, place, percent(s.Current, r.want.Current), w)
	}
	return w
}

// row holds the worst to what is asked.
func (r *reference) row(t *testing.T, what string, places [][2]float64) exactRow {
	w := r.over(t, places)
	out := exactRow{what: what, against: "second-order finite elements"}
	out.measured(t, "current", w.current, 0.3)
	held := r.held()
	out.measured(t, fmt.Sprintf("p%d to p95 of wall current", held[0]), w.percentiles, 1.5)
	if r.baffle != "" {
		out.measured(t, "p25, behind the baffle", w.behind, 4)
	}
	out.measured(t, "closure", w.closure, 0.5)
	out.measured(t, "probes: median", w.median, 0.7)
	out.measured(t, "nine in ten", w.nine, 3)
	return out
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
			ref.row(t, "reference tank "+ref.name+", worst of eight lattices", offsets[:]).report(t)
		})
	}
}

// referenceRow: one reference tank on the default lattice.
func referenceRow(t *testing.T, number int) exactRow {
	ref := references(t)[number]
	return ref.row(t, "reference tank "+ref.name, offsets[:1])
}
