package paper

import (
	"bytes"
	"fmt"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/geometry"
)

// Size is a size of paper. The zero value is A4.
type Size int

const (
	A4 Size = iota
	Letter
)

// ParseSize returns the size of that name.
func ParseSize(name string) (Size, error) {
	switch name {
	case "a4":
		return A4, nil
	case "letter":
		return Letter, nil
	}
	return A4, fmt.Errorf("%q is no size of paper: give a4 or letter", name)
}

// millimetres returns the width and the height.
func (s Size) millimetres() (width, height float64) {
	if s == Letter {
		return 215.9, 279.4
	}
	return 210, 297
}

// Style is how pages are printed.
type Style struct {
	Size  Size
	Units units.System
}

// Outline is the tank as lines, in its own frame.
type Outline struct {
	Along, Across [][2]geometry.Vec    // steel cut along (seen from the right side) and across (seen from the rear), m
	AtTip         [2][][2]geometry.Vec // the same through the first rod's tip
	Bounds        geometry.Box
	Surface       geometry.Plane // of the liquid, as first propped
	Height        float64        // of the liquid above the lowest inside point, m
	Cut           geometry.Vec   // where both cuts meet
	Openings      []Opening
}

// Opening is a round hole in the steel.
type Opening struct {
	Name     string
	Centre   geometry.Vec // m
	Axis     geometry.Vec // outward, of length 1
	Diameter float64      // m
	Twelve   geometry.Vec // the side of the tank where its rim has twelve o'clock; zero: not said
}

// Sheet is everything that the pages say.
type Sheet struct {
	Job      *job.Job
	Stations []bench.Station // at least one
	Outline  Outline
	Style    Style
}

// PDF returns the pages. The same sheet gives the same bytes.
func (s *Sheet) PDF() ([]byte, error) {
	p := s.draw()
	var out bytes.Buffer
	err := p.pdf.Output(&out)
	return out.Bytes(), err
}

// Words returns every text on the pages, in the order in which it is drawn.
func (s *Sheet) Words() []string {
	var out []string
	for _, w := range s.draw().written {
		out = append(out, w.text)
	}
	return out
}

// Pages returns how many there are.
func (s *Sheet) Pages() int { return s.draw().pdf.PageCount() }

// draw draws the pages twice: only then it is known how many there are.
func (s *Sheet) draw() *page {
	l := s.layout()
	return s.drawn(l, s.drawn(l, 0).pdf.PageCount())
}

// layout is what the first two pages may take.
type layout struct {
	picture float64 // its height, mm
	body    float64 // size of type, points
}

// layout returns the largest type with which the first two pages stay two and the picture
// is not too small, and gives the picture what room is left.
func (s *Sheet) layout() layout {
	const most, wanted, least = 82.0, 46.0, 34.0 // mm, of the picture
	for body := mostSize; body >= leastSize; body -= 0.5 {
		w := s.writer(layout{least, body})
		if w.before(least); w.pdf.PageCount() > 1 {
			continue
		}
		picture := min(most, least+w.bottom()-w.y)
		if w.running(); w.pdf.PageCount() == 2 && (picture >= wanted || body == leastSize) {
			return layout{picture, body}
		}
	}
	return layout{least, leastSize}
}

func (s *Sheet) writer(l layout) *writer {
	w := &writer{page: newPage(s.Style.Size, s.Job.Title), Sheet: s, u: s.Style.Units}
	w.body = l.body
	return w
}

func (s *Sheet) drawn(l layout, pages int) *page {
	w := s.writer(l)
	w.pages = pages
	w.before(l.picture)
	w.running()
	w.body = leastSize
	for i, end := 0, 0; i < len(s.Stations); i = end {
		end = w.onPage(i)
		w.stationPage(i, end)
	}
	w.unreached()
	w.fullSize()
	w.bentPages()
	return w.page
}

// perPage is how many stations one page takes.
const perPage = 2
