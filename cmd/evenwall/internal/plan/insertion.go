package plan

import (
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/passage"
	"evenwall/geometry/vessel"
)

// insertion returns how an anode goes in through its opening, or what stops it.
func (t *Tank) insertion(a *job.Anode) report.Insertion {
	out := report.Insertion{Anode: a.Name, Through: a.Through}
	o := t.opening(a.Through)
	if o == nil {
		out.Stop = "no opening is named for it"
		return out
	}
	if stop := t.amiss(a, o); stop != "" {
		out.Stop = stop
		return out
	}
	hold := t.holdOf(a)
	r := passage.Find(passage.Way{Rod: &a.Rod, Hold: hold, Steel: t.Steel(), Rim: o.Diameter / 2, Flexible: a.Slack > 0})
	if !r.In {
		out.Stop = t.stopWords(&r.Stop, o)
		return out
	}
	out.In, out.Straight, out.SpareMM = true, r.Straight, 1000*r.Spare
	out.Steps = t.insertionSteps(a, hold, &r)
	return out
}

// threading says how a stiff rod that is bent is brought in, step by step; nothing for others.
func (t *Tank) threading(a *job.Anode) []string {
	if a.Bend.Radius == 0 {
		return nil
	}
	e := t.insertion(a)
	if !e.In {
		return []string{"It does NOT go in through the " + a.Through + ": " + e.Stop}
	}
	return e.Steps
}

// amiss says what about an anode alone keeps it from being hung through its opening; "" when
// nothing does.
func (t *Tank) amiss(a *job.Anode, o *vessel.Opening) string {
	if a.Slack > 0 {
		if least := passage.LeastBend(a.Path); least < a.Slack-1e-9 {
			return fmt.Sprintf("its course bends to a radius of %.0f mm, it takes no less than %.0f mm: ease the corners", 1000*least, 1000*a.Slack)
		}
	}
	if c := a.Collar; c.Radius > 0 {
		s := t.rests(a, t.holdOf(a))
		switch {
		case 2*c.Radius <= o.Diameter:
			return fmt.Sprintf("its collar, %.1f mm across, falls through the %s, %.1f mm: take a wider one", 2000*c.Radius, o.Name, 1000*o.Diameter)
		case c.At < s-1e-3:
			return fmt.Sprintf("its collar sits %.0f mm from the tip and rests on the %s at %.0f mm, if the rod hangs as planned: move it up", 1000*c.At, o.Name, 1000*s)
		}
	}
	return ""
}

// stopWords says what stops an anode, how far it comes, and what would help.
func (t *Tank) stopWords(s *passage.Stop, o *vessel.Opening) string {
	if s.Wide {
		return fmt.Sprintf("it is %.1f mm wider than the %s, %.1f mm: take smaller spacers, a thinner sleeve or guard", -2000*s.Gap.Distance, o.Name, 1000*o.Diameter)
	}
	what := "steel"
	if k := int(s.Gap.Face); k >= 0 && k < len(t.Wall.Sheet) {
		what = t.sheetName(int(t.Wall.Sheet[k]))
	}
	short := "without room to spare"
	if s.Gap.Distance < 0 {
		short = fmt.Sprintf("short by %.1f mm", -1000*s.Gap.Distance)
	}
	return fmt.Sprintf("no way in was found: drawn out backward it comes to %.0f mm below the rim and meets %s at %v, %s: bend it less, shorten it, or take a thinner one",
		1000*s.Left, what, s.Gap.OnWall, short)
}

// insertionSteps says how the anode goes in, in the order in which it is done.
func (t *Tank) insertionSteps(a *job.Anode, hold geometry.Hold, r *passage.Result) []string {
	sides := t.sides()
	if r.Straight {
		return []string{fmt.Sprintf("hold it as it will hang: %s", leanWords(sides, a, hold)),
			fmt.Sprintf("push it straight in along itself until the mark at %.0f mm is level with the rim", 1000*hold.S)}
	}
	if a.Slack > 0 {
		return []string{"feed it in from the tip; it follows its course with all that sits on it",
			fmt.Sprintf("stop when the mark at %.0f mm is level with the rim, and see that it lies as drawn", 1000*hold.S)}
	}
	var out []string
	if !a.IsStraight() {
		out = append(out, bendWords(sides, a, r.Poses[0], hold))
	}
	out = append(out, "tip at the rim, "+poseWords(sides, r.Poses[0], hold))
	for i := 1; i < len(r.Poses); i++ {
		out = append(out, stepWords(sides, r.Poses[i-1], r.Poses[i], hold, !a.IsStraight()))
	}
	return append(out, "there it hangs as planned: "+leanWords(sides, a, hold))
}

// bendWords says how a bent rod stands outside before it goes in.
func bendWords(sides geometry.Sides, a *job.Anode, first passage.Pose, hold geometry.Hold) string {
	shank := first.Turn.Apply(hold.Along)
	aside := shank.AddScaled(hold.Normal, -shank.Dot(hold.Normal))
	angle := math.Atan2(aside.Norm(), shank.Dot(hold.Normal))
	if angle < 1*math.Pi/180 {
		return fmt.Sprintf("hold its upper leg square to the rim outside (it is bent by %.0f degrees)", degrees(a.Turning()))
	}
	return fmt.Sprintf("hold its upper leg outside, %.0f degrees from square to the rim, to the %s (it is bent by %.0f degrees)",
		degrees(angle), sides.Name(aside), degrees(a.Turning()))
}

// poseWords says how the rod stands at the rim against its final direction there.
func poseWords(sides geometry.Sides, p passage.Pose, hold geometry.Hold) string {
	var words []string
	if d := p.Shift.Norm(); d >= 5e-4 {
		words = append(words, fmt.Sprintf("%.0f mm to the %s of where it will stand", 1000*d, sides.Name(p.Shift)))
	}
	if w := swingWords(sides, p.Lean, hold); w != "" {
		words = append(words, "the part in the rim leaned "+w)
	}
	if len(words) == 0 {
		return "the part in the rim in line with how it will stand there at the end"
	}
	return strings.Join(words, ", ")
}

// swingWords says by how much and which way a turn swings what is below the rim.
func swingWords(sides geometry.Sides, lean geometry.Vec, hold geometry.Hold) string {
	if lean.Norm() < 0.2*math.Pi/180 {
		return ""
	}
	down := hold.Along.Scale(-1)
	swing := geometry.RotationAbout(lean, lean.Norm()).Apply(down).Sub(down)
	return fmt.Sprintf("%.0f degrees, its lower side to the %s", degrees(lean.Norm()), sides.Name(swing))
}

// stepWords says what to do between two poses.
func stepWords(sides geometry.Sides, a, b passage.Pose, hold geometry.Hold, bent bool) string {
	var words []string
	follow := ""
	if bent {
		follow = ", letting the rod follow its own bend"
	}
	switch mm := 1000 * (b.S - a.S); {
	case mm > 0.5:
		words = append(words, fmt.Sprintf("push in %.0f mm, to the mark at %.0f mm%s", mm, math.Max(0, 1000*b.S), follow))
	case mm < -0.5:
		words = append(words, fmt.Sprintf("draw back %.0f mm, to the mark at %.0f mm", -mm, math.Max(0, 1000*b.S)))
	}
	if w := swingWords(sides, b.Lean.Sub(a.Lean), hold); w != "" {
		words = append(words, "swing it "+w)
	}
	if d := b.Shift.Sub(a.Shift); d.Norm() >= 5e-4 {
		words = append(words, fmt.Sprintf("shift it %.0f mm to the %s in the rim", 1000*d.Norm(), sides.Name(d)))
	}
	if turn := degrees(b.Spin - a.Spin); math.Abs(turn) >= 0.5 {
		way := "anticlockwise"
		if turn < 0 {
			way = "clockwise"
		}
		words = append(words, fmt.Sprintf("turn it %.0f degrees %s as seen from outside", math.Abs(turn), way))
	}
	return strings.Join(words, ", while you ")
}
