package field

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write testdata/accuracy.md anew")

// accuracyFile holds the table that the README shows.
const accuracyFile = "../testdata/accuracy.md"

type exactCheck struct {
	name string
	run  func(*testing.T) exactRow
}

// exactChecks returns what has an exact answer or a second route.
func exactChecks() []exactCheck {
	return []exactCheck{
		{"concentric", func(t *testing.T) exactRow {
			return shellRow(t, "rod in a cylinder", cell{}, misfit{0.2, 0.6})
		}},
		{"concentric, film", func(t *testing.T) exactRow {
			return shellRow(t, "the same, film 0.02 ohm m2", cell{film: 0.02}, misfit{0.6, 1.5})
		}},
		{"30 mm off", func(t *testing.T) exactRow { return offAxisRow(t, 0.030) }},
		{"50 mm off", func(t *testing.T) exactRow { return offAxisRow(t, 0.050) }},
		{"80 mm off", func(t *testing.T) exactRow { return offAxisRow(t, 0.080) }},
		{"section", sectionRow},
		{"film, 50 mm off", func(t *testing.T) exactRow { return eccentricRow(t, 0.050) }},
		{"film, 80 mm off", func(t *testing.T) exactRow { return eccentricRow(t, 0.080) }},
		{"sphere", func(t *testing.T) exactRow { return ballRow(t, "sphere in a sphere, 4 mm", 0) }},
		{"sphere, film", func(t *testing.T) exactRow { return ballRow(t, "the same, film 0.02 ohm m2", 0.02) }},
		{"insulated ends", insulatedRow},
		{"gap 10 mm", func(t *testing.T) exactRow { return gapRow(t, 0.010) }},
		{"gap 5 mm", func(t *testing.T) exactRow { return gapRow(t, 0.005) }},
		{"gap 3 mm", func(t *testing.T) exactRow { return gapRow(t, 0.003) }},
		{"planes", planesRow},
		{"square", squareRow},
		{"two rods", twoRodsRow},
		{"beside plastic", besideRow},
		{"disc", discRow},
		{"half-space", halfSpaceRow},
		{"slanted cell", hullRow},
		{"decay", decayRow},
		{"box", boxRow},
		{"saddle", saddleRow},
		{"tank 1", func(t *testing.T) exactRow { return referenceRow(t, 0) }},
		{"tank 2", func(t *testing.T) exactRow { return referenceRow(t, 1) }},
		{"tank 3", func(t *testing.T) exactRow { return referenceRow(t, 2) }},
	}
}

// TestAccuracy holds each figure to its bound, skips loudly what falls short of what is
// asked, and keeps the table true: run it with -update after a change.
func TestAccuracy(t *testing.T) {
	var s strings.Builder
	s.WriteString(tableHead)
	for _, c := range exactChecks() {
		t.Run(c.name, func(t *testing.T) {
			r := c.run(t)
			s.WriteString(r.line())
			r.report(t)
		})
	}
	if *update {
		require.NoError(t, os.WriteFile(accuracyFile, []byte(s.String()), 0o644))
		pasteTable(t, s.String())
	}
	kept, err := os.ReadFile(accuracyFile)
	require.NoError(t, err, "run go test ./field -run Accuracy -update")
	sameTable(t, string(kept), s.String())
	readme, err := os.ReadFile(readmeFile)
	require.NoError(t, err)
	if !strings.Contains(string(readme), string(kept)) { // without printing all of either
		t.Error("README.md does not hold testdata/accuracy.md: run go test ./field -run Accuracy -update")
	}
}

const (
	readmeFile = "../README.md"
	tableHead  = "| what | against | greatest error, percent (held to) |\n|---|---|---|\n"
)

// pasteTable puts the table where README.md has the one before.
func pasteTable(t *testing.T, table string) {
	readme, err := os.ReadFile(readmeFile)
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(readme), tableHead)
	require.True(t, ok, "README.md has no table of accuracy")
	_, after, ok := strings.Cut(rest, "\n\n")
	require.True(t, ok, "README.md ends in its table")
	require.NoError(t, os.WriteFile(readmeFile, []byte(before+table+"\n"+after), 0o644))
}

// line returns the row as a line of the table.
func (r *exactRow) line() string {
	var parts []string
	for _, f := range r.figures {
		parts = append(parts, fmt.Sprintf("%s %.2g (%g)", f.name, f.off, f.within))
	}
	return fmt.Sprintf("| %s | %s | %s |\n", r.what, r.against, strings.Join(parts, ", "))
}

// sameTable holds the kept table to the new one: the same words, and figures that another
// machine's rounding may shift a little.
func sameTable(t *testing.T, kept, now string) {
	a, b := strings.Fields(kept), strings.Fields(now)
	require.Equal(t, len(a), len(b), "the table has other rows: run with -update")
	for i := range a {
		var x, y float64
		if n, _ := fmt.Sscan(a[i], &x); n == 1 {
			_, _ = fmt.Sscan(b[i], &y)
			assert.InDelta(t, x, y, 0.02+0.1*math.Abs(x), "word %d of the table", i)
			continue
		}
		assert.Equal(t, a[i], b[i])
	}
}
