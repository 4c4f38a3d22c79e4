package plan

import (
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
)

// byHand says how to set the rods and to look, dry, whether they clear the steel.
func (t *Tank) byHand(anodes []job.Anode, g *Gaps) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for i := range anodes {
		a := &anodes[i]
		hold := t.holdOf(a)
		say("%s: tape a mark %.0f mm from the tip, along the rod: it stands level with the rim of the %s.", a.Name, 1000*hold.S, a.Through)
		if words := t.atRim(a, hold); words != "" {
			say("%s: at the rim, from the outside of rod or sleeve to the edge: %s.", a.Name, words)
		}
		say("%s: %s.", a.Name, leanWords(t.sides(), a, hold))
		if words := footWords(t.sides(), a); words != "" {
			say("%s: %s.", a.Name, words)
		}
		if words := lyingWords(t.sides(), a); words != "" {
			say("%s: %s.", a.Name, words)
			say("Nobody sees how it lies: feel for it with a stiff wire, or look with a lamp and a mirror.")
		}
		if a.Collar.Radius > 0 {
			say("%s: its collar rests on the rim when %.0f mm of it are below%s.", a.Name, 1000*a.Collar.At, collarWords(a.Collar.At-t.rests(a, hold)))
		}
	}
	say("Meter on ohms, one lead on bare metal of the rod, one on bright steel of the tank: it must")
	say("show open. Push the rod to every side, turn it, lift and lower it as far as it lets you:")
	say("open all the time. Hold the leads together first: a meter that never shows 0 tells nothing.")
	if d := g.Worst(); d > 0 {
		say("Where it is tightest, %.0f mm: slip in a stick of wood of that width, down the %s, if a hand or", 1000*g.All.Distance, through(anodes))
		say("an eye gets there; it must go between rod and steel without moving the rod.")
	}
	say("Once there is liquid in it the meter no longer shows open: this is checked dry, and again")
	say("each time the rod was taken out.")
	return out
}

// rests returns how far from the tip a collar's underside is when it rests on the rim of the rod's
// opening with the rod at its planned depth, m: of a leaning rod it touches on the side to which the
// top leans.
func (t *Tank) rests(a *job.Anode, hold geometry.Hold) float64 {
	o := t.opening(a.Through)
	aside := hold.Along.AddScaled(hold.Normal, -hold.Along.Dot(hold.Normal))
	sine := aside.Norm()
	if o == nil || sine < 1e-6 {
		return hold.S
	}
	u, from := aside.Scale(1/sine), hold.At.Sub(o.Centre)
	along := from.Dot(u)
	toEdge := -along + math.Sqrt(math.Max(0, along*along+o.Diameter*o.Diameter/4-from.Dot(from)))
	return hold.S + toEdge*sine
}

// footWords says which way a bent rod is turned, so that it can be seen from outside; "" for others.
func footWords(sides geometry.Sides, a *job.Anode) string {
	if a.Bend.Radius == 0 {
		return ""
	}
	shank := a.Path[len(a.Path)-1].Sub(a.Path[len(a.Path)-2]).Unit()
	foot := a.Path[0].Sub(a.Path[1])
	aside := foot.AddScaled(shank, -foot.Dot(shank)).Unit()
	return fmt.Sprintf("bent by %.0f degrees: draw a line along its upper leg, on the side that its lower leg points to; at the rim that line faces the %s",
		degrees(a.Turning()), sides.Name(aside))
}

// lyingWords says which way the leg of a flexible anode on spacers leads from below its opening, so that
// it is fed in that way; "" for others.
func lyingWords(sides geometry.Sides, a *job.Anode) string {
	if a.Slack == 0 || len(a.Spacers) == 0 {
		return ""
	}
	leg := a.Path[0].Sub(a.Path[1])
	return fmt.Sprintf("flexible: feed it in with its tip to the %s, until the leg, %.0f mm long, lies on its %d spacers of %.0f mm",
		sides.Name(leg), 1000*leg.Norm(), len(a.Spacers), 2000*a.Spacers[0].Radius)
}

// collarWords says how far a collar sits from where the plan has the rim.
func collarWords(over float64) string {
	if math.Abs(over) < 0.0005 {
		return ", as planned"
	}
	return fmt.Sprintf(", %.0f mm more than planned: move it down by that, or hold the rod at its mark", 1000*over)
}

func through(anodes []job.Anode) string {
	if len(anodes) == 0 || anodes[0].Through == "" {
		return "opening"
	}
	return anodes[0].Through
}

// atRim says how far the rod is from the edge of its opening to each side.
func (t *Tank) atRim(a *job.Anode, hold geometry.Hold) string {
	o := t.opening(a.Through)
	if o == nil {
		return ""
	}
	axis, radius := o.Axis.Unit(), a.Outside(hold.S)
	words := ""
	for _, side := range t.sides().All() {
		w := side.Direction.AddScaled(axis, -side.Direction.Dot(axis))
		if w.Norm() < 0.5 {
			continue // square to the rim
		}
		w = w.Unit()
		from := hold.At.Sub(o.Centre)
		along := from.Dot(w)
		toEdge := -along + math.Sqrt(math.Max(0, along*along+o.Diameter*o.Diameter/4-from.Dot(from)))
		if words != "" {
			words += ", "
		}
		c := w.Dot(hold.Along)
		half := radius / math.Sqrt(math.Max(0.01, 1-c*c)) // of the ellipse that the rod cuts from the rim's plane
		words += fmt.Sprintf("%.0f mm to the %s", 1000*(toEdge-half), t.sides().Name(w))
	}
	return words
}

// leanWords says which way a rod leans from the line square to its opening.
func leanWords(sides geometry.Sides, a *job.Anode, hold geometry.Hold) string {
	tip := hold.Along.Scale(-1)
	square := hold.Normal.Scale(-1)
	aside := tip.AddScaled(square, -tip.Dot(square))
	angle := math.Atan2(aside.Norm(), tip.Dot(square))
	if angle < 0.1*math.Pi/180 {
		return "it stands square to the rim"
	}
	return fmt.Sprintf("it leans %.1f degrees from square to the rim, its tip to the %s: %.0f mm over the %.0f mm below the rim",
		degrees(angle), sides.Name(aside), 1000*hold.S*math.Sin(angle), 1000*hold.S*math.Cos(angle))
}
