package plan

import (
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
)

// worst returns the worst case as result.json has it; nil when nothing is taken in.
func (t *Tank) worst(g *Gaps, anodes []job.Anode) *report.Worst {
	off := t.Job.Search.Tolerance
	if off.IsZero() && t.Job.Tank.Sludge == 0 {
		return nil
	}
	w := &report.Worst{
		PositionMM: 1000 * off.Position, TiltDeg: degrees(off.Tilt), DepthMM: 1000 * off.Depth,
		DroopMM: 1000 * g.Off.Droop, SludgeMM: 1000 * t.Job.Tank.Sludge,
		Anode: g.Off.Rod, AnodeMM: point(g.Off.OnRod), WallMM: point(g.Off.OnWall),
		FoundMM: 1000 * g.Off.Attained, FreeMM: 1000 * g.Off.Free, Held: g.Off.Distance > g.Off.Free+1e-6,
		How: "as it is meant to hang",
	}
	for i := range anodes {
		if anodes[i].Name == g.Off.Rod {
			w.How = placementWords(t.sides(), t.holdOf(&anodes[i]), g.Off.Placement)
		}
	}
	return w
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// placementWords says how a rod hangs other than meant: what its point at the rim does,
// which way its tip swings, and how it slides.
func placementWords(sides geometry.Sides, hold geometry.Hold, p geometry.Placement) string {
	var words []string
	if d := p.Shift.Norm(); d >= 5e-5 {
		words = append(words, fmt.Sprintf("shifted %.1f mm to the %s at the rim", 1000*d, sides.Name(p.Shift)))
	}
	down := hold.Along.Scale(-1)
	if swing := p.Turn.Apply(down).Sub(down); swing.Norm() >= 1e-4 {
		angle := 2 * math.Asin(math.Min(swing.Norm()/2, 1))
		words = append(words, fmt.Sprintf("its tip swung %.1f degrees to the %s", degrees(angle), sides.Name(swing)))
	}
	switch mm := 1000 * p.Slide; {
	case mm >= 0.05:
		words = append(words, fmt.Sprintf("pulled up %.1f mm", mm))
	case mm <= -0.05:
		words = append(words, fmt.Sprintf("let down %.1f mm", -mm))
	}
	if len(words) == 0 {
		return "as it is meant to hang"
	}
	return strings.Join(words, ", ")
}
