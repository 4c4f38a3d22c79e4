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
	c := clockOf(&Opening{Axis: geometry.V(0, 0, 1)}, geometry.Sides{})
	for want, d := range map[string]geometry.Vec{"12 o'clock": geometry.V(1, 0, 0), "3 o'clock": geometry.V(0, -1, 0), "6 o'clock": geometry.V(-1, 0, 0),
		"9 o'clock": geometry.V(0, 1, 0), "1 o'clock": geometry.V(math.Sqrt(3), -1, 0), "11 o'clock": geometry.V(math.Sqrt(3), 1, 0)} {
		assert.Equal(t, want, c.hour(d))
	}
}

// Whoever looks at the left side from outside has the tank's front on the left; at the front
// from outside, the tank's left on the right; from below with the front up, the tank's left
// on the right.
func TestTwelveIsWhereItIsLookedFor(t *testing.T) {
	plus := geometry.FrontAt(geometry.V(0, 1, 0))
	for name, at := range map[string]struct {
		opening Opening
		sides   geometry.Sides
		three   geometry.Vec
		words   string
	}{
		"left side":       {Opening{Axis: geometry.V(0, 1, 0)}, geometry.Sides{}, geometry.V(-1, 0, 0), "is the top, seen from outside."},
		"front end":       {Opening{Axis: geometry.V(1, 0, 0)}, geometry.Sides{}, geometry.V(0, 1, 0), "is the top, seen from outside."},
		"floor":           {Opening{Axis: geometry.V(0, 0, -1)}, geometry.Sides{}, geometry.V(0, 1, 0), "is the front, seen from below."},
		"sloping to left": {Opening{Axis: geometry.V(0, 0.6, 0.8)}, geometry.Sides{}, geometry.V(0, -0.8, 0.6), "is the front, seen from above."},
		"chosen left":     {Opening{Axis: geometry.V(0, 0, 1), Twelve: geometry.V(0, 1, 0)}, geometry.Sides{}, geometry.V(1, 0, 0), "is the left, seen from above."},
		"front at +y":     {Opening{Axis: geometry.V(0, 0, 1)}, plus, geometry.V(1, 0, 0), "is the front, seen from above."},
		"chosen, +y":      {Opening{Axis: geometry.V(0, 0, 1), Twelve: geometry.V(1, 0, 0)}, plus, geometry.V(0, -1, 0), "is the right, seen from above."},
	} {
		c := clockOf(&at.opening, at.sides)
		assert.Equal(t, "3 o'clock", c.hour(at.three), name)
		assert.Contains(t, c.words(), at.words, name)
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
}

// Through a hole in the left side, a rod whose axis passes 10 mm to the front of the middle is 20
// mm from the edge of 60 mm there, which from outside is at nine. Its outer end is 30 mm higher
// than its tip over 160 mm: atan(30/160) = 11 degrees up, toward twelve.
func TestWhereARodPassesARimThatLooksAside(t *testing.T) {
	w := made(t, 1).writer(layout{})
	o := Opening{Name: "hole", Centre: geometry.V(0, 0.1, 0.08), Axis: geometry.V(0, 1, 0), Diameter: 0.06}
	w.Outline.Openings = []Opening{o}
	a := job.Anode{Rod: geometry.Rod{Radius: 0.005, Path: geometry.Straight(geometry.V(0.01, 0.02, 0.065), geometry.V(0.01, 0.18, 0.095))}}
	words := w.atRim(&a, &o, job.Attitude{})
	assert.Contains(t, words, "axis 20 mm from the edge at 9 o'clock")
	assert.Contains(t, words, "Leans 11 degrees from square to the rim, outer end toward 12 o'clock: a phone's level laid along it reads 11.")
	assert.Contains(t, words, "Twelve o'clock is the top, seen from outside.")
	place := w.place(&a.Rod, "hole")
	assert.Contains(t, place, "through the hole, 10 mm to the front of its middle")
	assert.Contains(t, place, "Tip 80 mm in from the rim, 10 mm to the front and 15 mm below its middle.")
}
