package plan

import (
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/render"
)

// view is the wall of one contender as it is drawn.
type view struct {
	scene render.Scene
	words string
}

// views paints the wall of each contender with what it gets by the stations' times.
func (m *match) views() []view {
	out := make([]view, len(m.contenders))
	for i, c := range m.contenders {
		t := c.basin.Tank
		s := t.Scene(c.stations[0].Anodes)
		for _, further := range c.stations[1:] {
			for k := range further.Anodes {
				s.Rods = append(s.Rods, further.Anodes[k].Rod)
			}
		}
		s.Surface = c.painted(s.Surface)
		if c.ground.fineWall != nil {
			s.Liquid = render.Plane{} // it stands in several ways
		}
		s.Least = t.Job.Aim.Least
		s.Patches = hatched(s.Surface, s.Least)
		out[i].scene = s
	}
	return out
}

// painted returns the wall with what it gets by the stations' times: from is that of the first station.
func (c *contender) painted(from render.Surface) render.Surface {
	if w := c.ground.fineWall; w != nil {
		return paintedBy(w.drawn(), w.wetFinder, c.mean, geometry.Identity(), 2.5*c.basin.Laid.Liquid.Lattice.H)
	}
	painter := *c.solved[0]
	painter.Density = c.mean
	return painter.painted(from)
}

// hatched returns the pieces of wall that get less than the least, or nothing when all of it
// gets more.
func hatched(s render.Surface, least float64) []render.Patch {
	var out []render.Patch
	for _, p := range render.LeastReached(s, render.PatchSettings{Below: least, Most: math.MaxInt16, Smallest: 1e-9}) {
		if p.Least < least {
			out = append(out, p)
		}
	}
	return out
}

// pictures draws the walls side by side and, of two on one ground, how they differ.
func (m *match) pictures(views []view, differ []report.Different, warnings []string) ([]report.Picture, error) {
	notes := render.Notes{Field: fieldNote, Warnings: warnings}
	draw := []func() (report.Picture, error){func() (report.Picture, error) {
		all := make([]render.Contender, len(views))
		for i, v := range views {
			all[i] = render.Contender{Name: m.contenders[i].name, Words: m.contenders[i].words(), Scene: v.scene}
		}
		image, err := render.Compare(m.title, all, notes, render.Settings{})
		if err != nil {
			return report.Picture{}, fmt.Errorf("the picture that compares: %w", err)
		}
		return report.Picture{Name: report.ComparePicture, Image: image}, nil
	}}
	if len(views) == 2 && len(m.grounds) == 1 {
		draw = append(draw, func() (report.Picture, error) { return m.difference(views, differ, notes) })
	}
	return together(draw...)
}

// words are the figures below a contender's name.
func (c *contender) words() string {
	share := 100 * c.basin.Job.Aim.Share
	hours := fmt.Sprintf("never %.0f %% of the wall within reach", share)
	if h := hoursOf(c.schedule.Finish); h != nil {
		hours = fmt.Sprintf("%.0f h to %.0f %% of the wall within reach", *h, share)
	}
	return fmt.Sprintf("%s; %.0f %% after 10 days", hours, 100*c.schedule.ReachedAfter(10 * day)[0])
}

// difference draws the ratio of the second contender's current to the first's.
func (m *match) difference(views []view, differ []report.Different, notes render.Notes) (report.Picture, error) {
	s := views[0].scene
	s.Rods, s.Notes = nil, notes
	first, second := views[0].scene.Surface.Value, views[1].scene.Surface.Value
	both := s.Surface
	both.Value = make([]float64, len(first))
	for i := range first {
		both.Value[i] = math.Max(first[i], second[i])
	}
	s.Patches = hatched(both, s.Least)
	s.Surface.Value = make([]float64, len(first))
	for i := range first {
		s.Surface.Value[i] = ratioOf(second[i], first[i])
	}
	var spots []render.Spot
	for i := range differ {
		p := differ[i].PointMM
		spots = append(spots, render.Spot{At: geometry.V(p[0]/1000, p[1]/1000, p[2]/1000), Words: differ[i].Words()})
	}
	names := [2]string{m.contenders[0].name, m.contenders[1].name}
	image, err := render.Difference(s, names, spots, render.Settings{})
	if err != nil {
		return report.Picture{}, fmt.Errorf("the picture of the difference: %w", err)
	}
	return report.Picture{Name: report.DifferencePicture, Image: image}, nil
}

// ratioOf returns a over b, 1 where both are nothing, within what a picture can show; NaN
// where there is no figure.
func ratioOf(a, b float64) float64 {
	const far = 1e6
	if math.IsNaN(a) || math.IsNaN(b) {
		return math.NaN()
	}
	if a <= 0 && b <= 0 {
		return 1
	}
	return min(max(max(a, 0)/max(b, 1e-12), 1/far), far)
}
