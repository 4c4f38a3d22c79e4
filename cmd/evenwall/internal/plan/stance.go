package plan

import (
	"context"
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// How ways of propping are compared: hundreds of them, each quickly.
const (
	stanceCells     = 12_000
	mostStanceCells = 30_000
	mostLean        = 30 * math.Pi / 180 // either way that is looked at, rad
	mostRoom        = 15 * math.Pi / 180 // that is looked at about the best, rad
	closelyLooked   = 200_000            // facets; of a finer surface the raster's own figures are given
)

// stances looks for the way of propping that wets the most wall and lets gas rise to the
// openings; nil when no opening is open or nothing holds liquid.
func (t *Tank) stances(ctx context.Context) (*report.Stances, error) {
	if !t.hasOpen() {
		return nil, nil
	}
	level := t.Turned(geometry.Identity())
	size := cellSize(level, stanceCells, mostStanceCells)
	r, err := newRaster(level, level.SurfaceAt(0), size)
	if err != nil {
		return nil, fmt.Errorf("the search for a way of propping: %w", err)
	}
	s := vessel.NewStances(level, r, size)
	best := s.Best(mostLean)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	now := t.Job.First().Attitude
	if asIs := s.At(now.Pitch, now.Roll); !s.Better(best, asIs) {
		best = asIs
	}
	if !best.Held || best.Wet == 0 {
		return nil, nil
	}
	look := t.stance
	if len(t.Shell.Faces) > closelyLooked {
		look = func(a job.Attitude) report.Stance { return t.stanceBy(s.At(a.Pitch, a.Roll)) }
	}
	out := &report.Stances{Now: look(now)}
	out.Best = out.Now
	if at := (job.Attitude{Pitch: best.Pitch, Roll: best.Roll}); at != now {
		out.Best = look(at)
		out.Props = propWords(at.Props(t.Shell.Bounds(), t.sides()))
	}
	out.DegreeLoss = lossAtADegree(s, best)
	room := s.RoomAbout(best, mostRoom)
	out.Room = roomTo(t.sides(), room)
	return out, nil
}

// lossAtADegree returns the share of its wetted wall that a stance loses when it leans by a
// degree the worst way.
func lossAtADegree(s *vessel.Stances, a vessel.Stance) float64 {
	const degree = math.Pi / 180
	most := 0.0
	for _, d := range [4][2]float64{{degree, 0}, {-degree, 0}, {0, degree}, {0, -degree}} {
		most = math.Max(most, 1-s.At(a.Pitch+d[0], a.Roll+d[1]).Wet/a.Wet)
	}
	return most
}

func (t *Tank) hasOpen() bool {
	for i := range t.Openings {
		if t.Openings[i].Use == vessel.Open {
			return true
		}
	}
	return false
}

// stance fills the tank to the brim in an attitude and looks at it closely; the zero areas
// stand for a tank that holds nothing there.
func (t *Tank) stance(a job.Attitude) report.Stance {
	out := report.Stance{PitchDeg: degrees(a.Pitch), RollDeg: degrees(a.Roll)}
	other := &Tank{Vessel: t.Turned(a.Rotation()), Job: t.Job}
	brim, err := other.Brim()
	if err != nil {
		return out
	}
	other.Filling = other.Fill(brim.Height)
	if other.Air, err = other.findAir(); err != nil {
		return out
	}
	out.CapacityL = litres(brim.Volume)
	if len(other.Air.Walls) > 0 {
		other.Filling.Wetted = other.Air.wet
	}
	for _, w := range other.Air.Walls {
		out.TrappedL += litres(w.Volume)
	}
	out.WettedM2, out.BlindM2 = other.Filling.Wetted.Area(), other.blindArea()
	return out
}

// stanceBy returns what the raster says of a stance.
func (t *Tank) stanceBy(a vessel.Stance) report.Stance {
	out := report.Stance{PitchDeg: degrees(a.Pitch), RollDeg: degrees(a.Roll), WettedM2: a.Wet, BlindM2: a.Blind, TrappedL: litres(a.Air)}
	if brim, err := t.Turned(geometry.Attitude(a.Pitch, a.Roll)).Brim(); err == nil {
		out.CapacityL = litres(brim.Volume)
	}
	return out
}

// propWords says which blocks to put where.
func propWords(props []job.Prop) string {
	if len(props) == 0 {
		return "level, no blocks"
	}
	words := make([]string, len(props))
	for i, p := range props {
		words[i] = fmt.Sprintf("a block of %.0f mm under the %s, %.0f mm from where it stands", 1000*p.Height, p.Under, 1000*p.Across)
	}
	return strings.Join(words, " and ")
}

// roomTo names how far the tank may lean from a stance by its sides.
func roomTo(s geometry.Sides, r vessel.Room) report.RoomDeg {
	return report.RoomDeg{FrontDown: degrees(r.Lowering(s.Front())), FrontUp: degrees(r.Lowering(s.Front().Scale(-1))),
		LeftUp: degrees(r.Lowering(s.Left().Scale(-1))), LeftDown: degrees(r.Lowering(s.Left()))}
}
