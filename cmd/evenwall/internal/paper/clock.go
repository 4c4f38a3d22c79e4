package paper

import (
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/geometry"
)

// lying is the cosine to the plumb line within which an opening looks up, or down.
const lying = 0.5

// clock reads directions in an opening's plane as the hours of a clock that lies on the rim
// and is looked at from outside.
type clock struct {
	twelve, three geometry.Vec // of length 1
	side          string       // of the tank, where twelve is
	seen          string       // from where
}

// clockOf returns the clock of an opening: twelve where the job has it, or else at the front,
// and at the top where the opening looks aside.
func clockOf(o *Opening, sides geometry.Sides) clock {
	c := clock{seen: "from above"}
	aside := math.Abs(o.Axis.Z) < lying
	switch {
	case aside:
		c.seen = "from outside"
	case o.Axis.Z < 0:
		c.seen = "from below"
	}
	at := o.Twelve
	if at == (geometry.Vec{}) {
		if at = sides.Front(); aside {
			at = geometry.V(0, 0, 1)
		}
	}
	c.side = sides.Facing(at)
	c.twelve = at.AddScaled(o.Axis, -at.Dot(o.Axis)).Unit()
	c.three = c.twelve.Cross(o.Axis)
	return c
}

// hour returns the direction of d as an hour.
func (c clock) hour(d geometry.Vec) string {
	hour := int(math.Round(math.Atan2(d.Dot(c.three), d.Dot(c.twelve))/(math.Pi/6))+12) % 12
	if hour == 0 {
		hour = 12
	}
	return fmt.Sprintf("%d o'clock", hour)
}

// words names twelve on the tank.
func (c clock) words() string {
	return fmt.Sprintf(" Twelve o'clock is the %s, seen %s.", c.side, c.seen)
}

// atRim says where a rod's axis passes an opening, by the clock and the nearest of the rim,
// and how it leans as the tank stands.
func (w *writer) atRim(a *job.Anode, o *Opening, attitude job.Attitude) string {
	const near = 0.0015 // m
	at, ok := passes(&a.Rod, o)
	if !ok {
		return ""
	}
	c, text := clockOf(o, w.Job.Tank.Sides), ""
	if d := at.Sub(o.Centre); d.Norm() > near {
		text += fmt.Sprintf(" At the rim: axis %s from the edge at %s.", w.u.Text(units.Length, o.Diameter/2-d.Norm()), c.hour(d))
	}
	n := len(a.Path)
	leg := a.Path[n-1].Sub(a.Path[n-2]).Unit()
	if o.Axis.Z >= lying {
		text += leanUpright(leg, attitude.Up(), c)
	} else {
		text += leanAside(leg, attitude.Up(), o.Axis, c)
	}
	if strings.Contains(text, "o'clock") {
		text += c.words()
	}
	return text
}

// upright is the lean below which none is said, degrees.
const upright = 0.5

// leanUpright says how the upper part of a rod leans from the plumb line.
func leanUpright(leg, up geometry.Vec, c clock) string {
	lean := between(leg, up)
	if lean < upright {
		return " Hangs plumb."
	}
	return fmt.Sprintf(" Leans %.0f degrees from plumb, top toward %s: a phone's level laid along it reads %.0f.", lean, c.hour(leg.AddScaled(up, -leg.Dot(up))), 90-lean)
}

// leanAside says how the outer part of a rod leans from the line square to an opening that
// looks aside or down.
func leanAside(leg, up, axis geometry.Vec, c clock) string {
	text := " Stands square to the rim"
	if lean := between(leg, axis); lean >= upright {
		text = fmt.Sprintf(" Leans %.0f degrees from square to the rim, outer end toward %s", lean, c.hour(leg))
	}
	return text + fmt.Sprintf(": a phone's level laid along it reads %.0f.", math.Abs(90-between(leg, up)))
}

// between returns the angle between two directions of length 1, degrees.
func between(a, b geometry.Vec) float64 {
	return math.Acos(math.Max(-1, math.Min(1, a.Dot(b)))) * 180 / math.Pi
}
