package plan

import (
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/search"
	"evenwall/geometry"
)

// levelWithin is the cosine of 45 degrees: wall that is nearer to level is floor or roof.
const levelWithin = math.Sqrt2 / 2

// weights returns by how much each patch of wall counts; nil when all count alike. Wall of several
// attitudes is told apart by the first.
func (h *hunt) weights() []float64 {
	if h.wall == nil {
		return h.coarse.weights()
	}
	return h.wall.first.weightsOf(h.judged())
}

// weights returns those of the basin's own patches.
func (b *Basin) weights() []float64 { return b.weightsOf(b.framed()) }

// weightsOf returns those of patches as the tank is propped and filled.
func (t *Tank) weightsOf(all framed) []float64 {
	w := t.Job.Aim.Weights
	if w.IsZero() {
		return nil
	}
	at := w.At
	if at == 0 {
		at = t.Filling.Height
	}
	out, back := make([]float64, len(all.All)), all.back
	for i, p := range all.All {
		switch up := -back.Apply(p.Normal).Dot(t.Up); {
		case up > levelWithin:
			out[i] = w.Floor
		case up < -levelWithin:
			out[i] = w.Roof
		default:
			out[i] = w.Walls
		}
		height := t.Filling.Height + t.Filling.Surface.Height(back.Apply(p.Centre))
		if w.Lined && math.Abs(height-at) <= job.WaterlineBand {
			out[i] = w.Waterline
		}
	}
	return out
}

// weightWords says how wall is counted; "" when all alike.
func weightWords(w job.Weights) string {
	if w.IsZero() {
		return ""
	}
	line := ""
	if w.Lined {
		at := "the bath's level"
		if w.At > 0 {
			at = fmt.Sprintf("%.3g mm above the lowest inside point", 1000*w.At)
		}
		line = fmt.Sprintf(", the waterline (within %.0f mm of %s) %.3g", 1000*job.WaterlineBand, at, w.Waterline)
	}
	return fmt.Sprintf("floor (facing up, within 45 degrees) %.3g times, roof (facing down) %.3g, walls %.3g%s; shares of the wall are by that",
		w.Floor, w.Roof, w.Walls, line)
}

// along returns the patches of a basin that lie along a spared line.
func (b *Basin) along(s *job.Spared) []int {
	back := b.Turn.Inverse()
	var out []int
	for i, p := range b.Recovery().Patches.All {
		at := back.Apply(p.Centre)
		near := at.Dist(s.Line[0])
		for k := 1; k < len(s.Line); k++ {
			near = math.Min(near, fromSegment(at, s.Line[k-1], s.Line[k]))
		}
		if near <= s.Near {
			out = append(out, i)
		}
	}
	return out
}

// fromSegment returns the distance of p from the line between two points, m.
func fromSegment(p, from, to geometry.Vec) float64 {
	a, b := geometry.SegmentGap(p, p, from, to)
	return a.Dist(b)
}

// sparedMargin is the share of a limit that the search keeps on its coarse lattice, whose patches
// average over more wall than those that the limit is held against in the end.
const sparedMargin = 0.9

// spared returns the wall to be spared in a basin, held to so much of its limits.
func (h *hunt) spared(b *Basin, part float64) ([]search.Spared, error) {
	var out []search.Spared
	for i := range h.Job.Aim.Spare {
		s := &h.Job.Aim.Spare[i]
		patches := b.along(s)
		if len(patches) == 0 {
			return nil, h.Job.Blame(job.Fault{Key: fmt.Sprintf("aim.spare[%d]", i),
				Text: fmt.Sprintf("%q has no wall under the liquid within %.3g mm of its line: check the points, or give near more", s.Name, 1000*s.Near)})
		}
		out = append(out, search.Spared{Patches: patches, Most: part * s.Most, Charge: part * s.Charge})
	}
	return out, nil
}

// sparedIn returns what the wall to be spared gets by the close solution.
func (h *hunt) sparedIn(c *closeUp) ([]report.Spared, error) {
	fine := c.solved[0].Basin
	spared, err := h.spared(fine, 1)
	if err != nil {
		return nil, err
	}
	var out []report.Spared
	for k, s := range spared {
		of := report.Spared{Name: h.Job.Aim.Spare[k].Name, LimitAM2: s.Most, LimitAHM2: s.Charge / 3600}
		for _, i := range s.Patches {
			of.AreaMM2 += 1e6 * fine.Recovery().Patches.All[i].Area
			charge := 0.0
			for n, solved := range c.solved {
				of.MostAM2 = math.Max(of.MostAM2, solved.Density[i])
				charge += solved.Density[i] * c.stations[n].Duration / 3600
			}
			of.ChargeAHM2 = math.Max(of.ChargeAHM2, charge)
		}
		out = append(out, of)
	}
	return out, nil
}
