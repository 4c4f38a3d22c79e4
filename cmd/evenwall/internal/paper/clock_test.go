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

// The liquid stands 40 mm under a level filler's rim, as the tank lies, and where the front is
// lowered by 10 degrees at 40 mm under the middle: its lowest point is 30 sin 10 = 5 mm lower.
func TestTheLevelIsMeasuredFromTheLowestOfTheRim(t *testing.T) {
	w := made(t, 1).writer(layout{})
	w.Job.Bath.Level = job.Level{By: job.AboveLowest, Value: 0.110}
	w.Outline.Surface = geometry.PlaneThrough(geometry.V(0, 0, 0.110), geometry.V(0, 0, 1))
	assert.Equal(t, "40 mm plumb below the lowest of the filler's rim", w.levelWords())
	up := job.Attitude{Pitch: 10 * math.Pi / 180}.Up()
	w.Outline.Surface = geometry.PlaneThrough(geometry.V(0, 0, 0.150).AddScaled(up, -0.040), up)
	assert.Equal(t, "35 mm plumb below the lowest of the filler's rim", w.levelWords())
}

// A riser of 120 mm with a bore of 50 mm on the filler: a plumb rod of 10 mm in its middle stays in
// it. Leaning 45 degrees from the middle, its side, 5/cos 45 = 7.1 mm from its axis, meets the bore
// 25 - 7.1 = 17.9 mm up: the next whole millimetre is 18, and with half a millimetre of slack 19. One
// that passes the rim 21 mm from the middle is not in the bore at all.
func TestALeaningRodLeavesTheRiser(t *testing.T) {
	s := made(t, 1)
	s.Job.Riser = job.Riser{Height: 0.120, Bore: 0.050}
	w := s.writer(layout{})
	hang := func(tip, top geometry.Vec) string {
		a := &w.Stations[0].Anodes[0]
		a.Rod = geometry.Rod{Radius: 0.005, Path: geometry.Straight(tip, top)}
		return w.riser()
	}
	assert.NotContains(t, hang(geometry.V(0, 0, 0.05), geometry.V(0, 0, 0.30)), "meets its wall")
	assert.Contains(t, hang(geometry.V(0.1, 0, 0.05), geometry.V(-0.1, 0, 0.25)), "A leaning rod meets its wall 19 mm above the rim")
	assert.Contains(t, hang(geometry.V(0.021, 0, 0.05), geometry.V(0.021, 0, 0.30)), "take a wider bore")
}
