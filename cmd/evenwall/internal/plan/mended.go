package plan

import (
	"fmt"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/mend"
)

// mostHoles is how many holes a result lists one by one.
const mostHoles = 100

// found says what was wrong with the surface that was read and what was done about it.
func (t *Tank) found() []string {
	lines := []string{}
	file := &t.Read.File
	if n := file.Degenerate; n > 0 {
		lines = append(lines, fmt.Sprintf("facets without area: %d, dropped", n))
	}
	if n := file.Doubled; n > 0 {
		lines = append(lines, fmt.Sprintf("facets that stand in the file twice: %d, dropped", n))
	}
	return append(lines, t.Read.Mended.Words(t.place)...)
}

// place says where p is in words and mm.
func (t *Tank) place(p geometry.Vec) string {
	return fmt.Sprintf("%s, %v", t.third(p), p)
}

// holes lists the holes that were closed.
func (t *Tank) holes() []report.Hole {
	out := []report.Hole{}
	for i, h := range t.Read.Mended.Holes {
		if i == mostHoles {
			break
		}
		taken := h.Kind.String()
		if h.Kind == mend.Filler {
			taken = h.Opening
		}
		out = append(out, report.Hole{TakenFor: taken, AcrossMM: 1000 * h.Across, AreaMM2: 1e6 * h.Area, CentreMM: point(h.Centre)})
	}
	return out
}
