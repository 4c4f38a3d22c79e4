package paper

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
)

// Seen from above with the front at twelve, the right is at three, the rear at six and the
// left at nine.
func TestClockOnTheTank(t *testing.T) {
	for want, d := range map[string]geometry.Vec{"12 o'clock": geometry.V(1, 0, 0), "3 o'clock": geometry.V(0, -1, 0), "6 o'clock": geometry.V(-1, 0, 0),
		"9 o'clock": geometry.V(0, 1, 0), "1 o'clock": geometry.V(math.Sqrt(3), -1, 0), "11 o'clock": geometry.V(math.Sqrt(3), 1, 0)} {
		assert.Equal(t, want, clock(d))
	}
}

// A filler of 60 mm: the axis 10 mm to the right of its middle is 20 mm from the edge at
// three o'clock. The rod leans atan(40/160) = 14 degrees to the rear; a tank whose front is
// lowered by 10 degrees takes it back to 4.
func TestWhereARodPassesTheRim(t *testing.T) {
	s := made(t, 1)
	w := s.writer(layout{})
	o := &s.Outline.Openings[0]
	a := job.Anode{Rod: geometry.Rod{Radius: 0.005, Path: geometry.Straight(geometry.V(0.02, -0.01, 0.07), geometry.V(-0.02, -0.01, 0.23))}}
	level := w.atRim(&a, o, job.Attitude{})
	assert.Contains(t, level, "axis 20 mm from the edge at 3 o'clock")
	assert.Contains(t, level, "Leans 14 degrees from plumb, top toward 6 o'clock: a phone's level laid along it reads 76.")
	assert.Contains(t, w.atRim(&a, o, job.Attitude{Pitch: 10 * math.Pi / 180}), "Leans 4 degrees from plumb")
	plumb := job.Anode{Rod: geometry.Rod{Radius: 0.005, Path: geometry.Straight(geometry.V(0, 0, 0.07), geometry.V(0, 0, 0.23))}}
	assert.Contains(t, w.atRim(&plumb, o, job.Attitude{}), "Hangs plumb.")
	aside := Opening{Centre: geometry.V(0, 0, 0.15), Axis: geometry.V(1, 0, 0), Diameter: 0.06}
	assert.Empty(t, w.atRim(&a, &aside, job.Attitude{}))
}
