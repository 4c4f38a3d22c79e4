package electrode

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Extra path of perforated tubes with a 3 mm wall, derived from Hall's formula: 39, 19 and
// 36 mm, to the last place given.
func TestGuardPathOfPerforatedTubes(t *testing.T) {
	for _, c := range []struct{ open, hole, want float64 }{
		{0.20, 0.006, 0.039}, {0.40, 0.006, 0.019}, {0.30, 0.010, 0.036},
	} {
		g := Guard{Open: c.open, Wall: 0.003, Hole: c.hole}
		assert.InDelta(t, c.want, g.Path(), 0.0005, "%+v", g)
		assert.InDelta(t, g.Path()/0.6, g.Film(0.6).Resistance, 1e-15)
	}
}

// In the limit of nothing but liquid: no wall, holes of no size.
func TestFineMeshCostsNothing(t *testing.T) {
	assert.InDelta(t, 0, Guard{Open: 0.5, Wall: 0, Hole: 1e-9}.Path(), 1e-8)
}

// One hole alone in a thin sheet is two disks on half-spaces, 1/(4κa) each: a disk of 10 mm
// radius at 1.31 S/m has 19.084 ohm.
func TestOneHoleIsTwoDisks(t *testing.T) {
	const area, kappa = 1.0, 1.31 // m² of sheet, S/m
	hole := 0.02
	open := 3.141592653589793 * hole * hole / 4 / area
	assert.InDelta(t, 2*19.084, Guard{Open: open, Hole: hole}.Film(kappa).Resistance/area, 0.002)
}
