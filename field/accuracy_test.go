package field

import (
	"cmp"
	"context"
	"flag"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"evenwall/geometry"
)

var update = flag.Bool("update", false, "write the accuracy tables in testdata anew")

// accuracyFile holds the table of TestAccuracy.
const accuracyFile = "../testdata/accuracy.md"

// TestAccuracy solves what has an exact or an independent answer, holds each figure to its
// bound, and keeps the table true: run it with -update after a change.
func TestAccuracy(t *testing.T) {
	rows := cylinderRows(t)
	rows = append(rows, sphereRows(t)...)
	rows = append(rows, sectionRow(t), drivenRow(t))
	rows = append(rows, referenceRows(t)...)
	var s strings.Builder
	s.WriteString("| what | against | greatest error, percent (held to) |\n|---|---|---|\n")
	for _, r := range rows {
		s.WriteString(r.line())
	}
	if *update {
		require.NoError(t, os.WriteFile(accuracyFile, []byte(s.String()), 0o644))
	}
	kept, err := os.ReadFile(accuracyFile)
	require.NoError(t, err, "run go test ./field -run Accuracy -update")
	sameTable(t, string(kept), s.String())
}

// The README shows both tables as the tests wrote them.
func TestTheReadmeHoldsTheTables(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	for _, file := range []string{accuracyFile, exactFile} {
		table, err := os.ReadFile(file)
		require.NoError(t, err)
		rows := strings.SplitN(string(table), "|---|---|---|\n", 2)
		require.Len(t, rows, 2)
		assert.Contains(t, string(readme), rows[1], "README.md must hold the rows of %s", file)
	}
}

// cylinderRows: a 12 mm rod in a 200 mm shell, turned by odd angles about all axes, exact
// potentials on the ends, over the middle third, at 4 mm.
func cylinderRows(t *testing.T) []exactRow {
	var rows []exactRow
	for _, c := range []struct {
		what         string
		cell         cell
		r, l2, worst float64
	}{
		{"rod in a cylinder", cell{}, 0.1, 0.2, 0.6},
		{"the same, film 0.02 ohm m2", cell{film: 0.02}, 0.1, 0.6, 1.5},
		{"rod 30 mm off the axis", cell{offset: 0.030}, 0.1, 0.6, 1.5},
		{"rod 50 mm off the axis", cell{offset: 0.050}, 0.1, 0.6, 1.5},
		{"rod 80 mm off, 14 mm from the wall", cell{offset: 0.080}, 0.1, 1.0, 2.0},
	} {
		c.cell.h, c.cell.turn = 0.004, oddTurn()
		s := c.cell.solve(t)
		r := exactRow{what: c.what + ", 4 mm", against: "exact (images; Incropera and DeWitt, table 4.1)"}
		r.measured(t, "R", 100*(s.perMetre()/c.cell.perVolt()-1), c.r)
		l2, worst, _ := s.wallError(c.cell)
		r.measured(t, "wall current L2", l2, c.l2)
		r.measured(t, "its worst", worst, c.worst)
		assert.InDelta(t, 1, s.Balance, 1e-3, "current in = current out")
		rows = append(rows, r)
	}
	return rows
}

// sectionRow: the same cells in two dimensions.
func sectionRow(t *testing.T) exactRow {
	r := exactRow{what: "level section of the same, in two dimensions, 4 mm", against: "exact"}
	worst := 0.0
	for _, offset := range []float64{0, 0.030, 0.050} {
		s, _ := sliced(t, cell{h: 0.004, offset: offset})
		worst = math.Max(worst, math.Abs(100*(s.Current/0.004/cell{offset: offset}.perVolt()-1)))
	}
	r.measured(t, "R", worst, 0.1)
	return r
}

// drivenRow: a rod in a half space against Dwight (1936), AIEE Trans. 55, 1319, less his
// formula's excess of 1.4, 1.2, 0.9 % for a round end at L/a = 50, 100, 300.
func drivenRow(t *testing.T) exactRow {
	r := exactRow{what: "driven rod, 50, 100, 300 radii long", against: "Dwight (1936) less its excess of 0.9 to 1.4 %"}
	worst := 0.0
	for ratio, excess := range map[float64]float64{50: 1.014, 100: 1.012, 300: 1.009} {
		const a = 0.006
		l := ratio * a
		rod := uprightRod(l, a)
		dwight := (math.Log(4*l/a) - 1) / (2 * math.Pi * l)
		worst = math.Max(worst, math.Abs(100*(newBody(bandsOf(&rod, 0, surfaceAtZero), surfaceAtZero).resistance()/(dwight/excess)-1)))
	}
	r.measured(t, "R", worst, 1)
	return r
}

// referenceRows: the three tanks with finite-element answers, at the default spacing.
func referenceRows(t *testing.T) []exactRow {
	var rows []exactRow
	for _, ref := range references(t) {
		f := ref.fill(t, Grid{Spacing: DefaultSpacing(0)})
		rec := f.Recovery()
		s, err := Solve(context.Background(), ref.problem(f), Settings{})
		require.NoError(t, err)
		j, closure := s.WallCurrent(rec)
		r := exactRow{what: "reference tank " + ref.name, against: "second-order finite elements"}
		r.measured(t, "current", percent(s.Current, ref.want.Current), 0.3)
		quantiles := []int{5, 25, 50, 75, 95}
		if ref.wall == 0 { // at film 0 the lowest live in creases
			quantiles = quantiles[1:]
		}
		u, worst := NewUniformity(rec.Patches.All, j), 0.0
		for _, q := range quantiles {
			worst = math.Max(worst, math.Abs(percent(u.Percentile(float64(q)/100), ref.want.Percentile[strconv.Itoa(q)])))
		}
		r.measured(t, "p"+strconv.Itoa(quantiles[0])+" to p95 of wall current", worst, 1.5)
		r.measured(t, "closure", 100*(closure-1), 0.5)
		median, nine := ref.probes(rec, j)
		r.measured(t, "probes: median", median, 0.7)
		r.measured(t, "nine in ten", nine, 3)
		rows = append(rows, r)
	}
	return rows
}

// probes returns the median and the nine-in-ten error at the probe points, percent.
func (r *reference) probes(rec *Recovery, j []float64) (median, nine float64) {
	var off []float64
	for _, p := range r.want.Probes {
		at, n := mm(p.At[0], p.At[1], p.At[2]), geometry.V(p.Normal[0], p.Normal[1], p.Normal[2])
		off = append(off, math.Abs(percent(read(rec, j, at, n), p.J)))
	}
	slices.Sort(off)
	return off[len(off)/2], off[9*len(off)/10]
}

// read returns the current density at a point of the wall: the logarithm of j fitted by a
// quadratic in the tangent plane over the nearest patches that face the same way. On the
// finite elements' own data such a reading is good to 0.15 % median, 0.9 % at nine in ten.
func read(rec *Recovery, j []float64, at, normal geometry.Vec) float64 {
	type near struct{ d2, u, v, log float64 }
	u, v := normal.Perpendicular()
	var all []near
	for i := range rec.Patches.All {
		q := &rec.Patches.All[i]
		d := q.Centre.Sub(at)
		if j[i] > 0 && q.Normal.Dot(normal) > 0.7 && d.Dot(d) < 0.016*0.016 {
			all = append(all, near{d.Dot(d), d.Dot(u), d.Dot(v), math.Log(j[i])})
		}
	}
	slices.SortFunc(all, func(a, b near) int { return cmp.Compare(a.d2, b.d2) })
	all = all[:min(24, len(all))]
	size2 := 1.1 * all[len(all)-1].d2
	a, y := mat.NewDense(len(all), 6, nil), mat.NewVecDense(len(all), nil)
	for i, k := range all {
		w := math.Sqrt((1-k.d2/size2)*(1-k.d2/size2) + 1e-3)
		x, z := k.u/math.Sqrt(size2), k.v/math.Sqrt(size2)
		a.SetRow(i, []float64{w, w * x, w * z, w * x * x, w * x * z, w * z * z})
		y.SetVec(i, w*k.log)
	}
	var c mat.VecDense
	if c.SolveVec(a, y) != nil {
		return math.Exp(all[0].log)
	}
	return math.Exp(c.AtVec(0))
}
