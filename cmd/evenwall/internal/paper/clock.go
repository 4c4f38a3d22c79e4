package paper

import (
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/geometry"
)

// clock returns the direction of d as the hour of a clock that lies on the tank, twelve to
// the front, seen from above.
func clock(d geometry.Vec) string {
	hour := int(math.Round(math.Atan2(-d.Y, d.X)/(math.Pi/6))+12) % 12
	if hour == 0 {
		hour = 12
	}
	return fmt.Sprintf("%d o'clock", hour)
}

// atRim says where a rod's axis passes an opening that looks up, by the clock and the nearest
// of the rim, and how it leans from the plumb line as the tank stands; "" for other openings.
func (w *writer) atRim(a *job.Anode, o *Opening, attitude job.Attitude) string {
	const upward, near, upright = 0.5, 0.0015, 0.5 // cosine, m, degrees
	at, ok := passes(&a.Rod, o)
	if !ok || o.Axis.Z < upward {
		return ""
	}
	text := ""
	if d := at.Sub(o.Centre); d.Norm() > near {
		text += fmt.Sprintf(" At the rim: axis %s from the edge at %s.", w.u.Text(units.Length, o.Diameter/2-d.Norm()), clock(d))
	}
	n := len(a.Path)
	up := attitude.Rotation().Inverse().Apply(geometry.V(0, 0, 1))
	leg := a.Path[n-1].Sub(a.Path[n-2]).Unit()
	lean := math.Acos(math.Min(1, leg.Dot(up))) * 180 / math.Pi
	if lean < upright {
		text += " Hangs plumb."
	} else {
		text += fmt.Sprintf(" Leans %.0f degrees from plumb, top toward %s: a phone's level laid along it reads %.0f.", lean, clock(leg.AddScaled(up, -leg.Dot(up))), 90-lean)
	}
	if strings.Contains(text, "o'clock") {
		text += " Twelve o'clock is the front, seen from above."
	}
	return text
}
