package paper

import (
	"fmt"
	"math"
	"reflect"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
)

// Full-size drawings, mm.
const (
	stripHead = 4.0  // free above and below a strip
	discMost  = 26.0 // half of what a disc may take to each side; wider ones are cut off
)

// fullSize draws every rod at its real size, one after the other; a rod that hangs alike in
// several stations is drawn once.
func (w *writer) fullSize() {
	var drawn []*job.Anode
	for i := range w.Stations {
		for k := range w.Stations[i].Anodes {
			a := &w.Stations[i].Anodes[k]
			if !madeAlike(drawn, a) {
				drawn = append(drawn, a)
				w.fullSizeRod(a, w.rodName(i, a))
			}
		}
	}
}

// rodName returns what a rod is called among all.
func (w *writer) rodName(station int, a *job.Anode) string {
	if len(w.Stations) == 1 {
		return a.Name
	}
	return "station " + numberOf(station) + ", " + a.Name
}

// madeAlike reports whether a rod needs no drawing of its own: cut, sleeved and fitted as
// one of those, wherever it hangs.
func madeAlike(drawn []*job.Anode, a *job.Anode) bool {
	for _, b := range drawn {
		if math.Abs(a.Length()-b.Length()) < 5e-4 && a.Radius == b.Radius && a.Flat == b.Flat && a.Sleeve == b.Sleeve && a.Guard == b.Guard &&
			a.Collar == b.Collar && len(a.Path) == 2 && len(b.Path) == 2 && a.Through == b.Through &&
			reflect.DeepEqual(a.Bare, b.Bare) && reflect.DeepEqual(a.Spacers, b.Spacers) {
			return true
		}
	}
	return false
}

// fullSizeRod draws one rod in strips side by side, tip first, over as many pages as it takes.
func (w *writer) fullSizeRod(a *job.Anode, name string) {
	const strips = 2 // a page
	marks := w.fullMarks(a)
	length := a.Length() * 1000
	for from := 0.0; from < length-0.5; {
		w.begin()
		w.heading("Full size: " + name)
		w.checkLine()
		top, bottom := w.y+stripHead, w.bottom()-stripHead
		reach := math.Floor((bottom-top)/10) * 10 // mm of rod a strip
		for k := 0; k < strips && from < length-0.5; k++ {
			w.strip(a, marks, strip{x: w.x + float64(k)*w.w/strips, bottom: bottom, from: from, to: math.Min(length, from+reach)})
			from += reach
		}
	}
}

// checkLine draws the line by which a print is held against a rule: 100 mm, or 4 in.
func (w *writer) checkLine() {
	long, words := 100.0, "100 mm"
	if w.u == units.US {
		long, words = 4*25.4, "4 in"
	}
	w.text(0, "Print at 100 %, not fitted to the page: the line below is to measure "+words+". Lay the rod on it, tip to tip; marks are from the tip.")
	y := w.y + 4
	w.line(w.x, y, w.x+long, y, 0.4)
	for k := range 11 {
		high := 1.5
		if k%5 == 0 {
			high = 3
		}
		w.line(w.x+long*float64(k)/10, y-high, w.x+long*float64(k)/10, y, 0.3)
	}
	w.at(w.x+long+2, y-3, words)
	w.y = y + 3
}

// strip is a stretch of a rod on the page, mm from the tip; its lower end is at bottom.
type strip struct{ x, bottom, from, to float64 }

// at returns where a place along the rod is on the page.
func (s strip) at(mm float64) float64 { return s.bottom - (mm - s.from) }

// clipped returns the part of a stretch that the strip shows.
func (s strip) clipped(from, to float64) (low, high float64, any bool) {
	low, high = math.Max(from, s.from), math.Min(to, s.to)
	return low, high, high > low
}

// strip draws one stretch at its real size: plastic as an outline, metal grey, fittings and marks.
func (w *writer) strip(a *job.Anode, marks []mark, s strip) {
	middle := s.x + discMost + 1
	radius, sleeve := 1000*a.Radius, math.Max(1000*a.Sleeve, 1000*a.Radius+0.5)
	w.rect(middle-sleeve, s.at(s.to), 2*sleeve, s.to-s.from, 0.3)
	for _, b := range a.Bare {
		if low, high, any := s.clipped(1000*b.From, 1000*b.To); any {
			w.pdf.SetFillColor(255, 255, 255)
			w.pdf.Rect(middle-sleeve-0.3, s.at(high), 2*sleeve+0.6, high-low, "F")
			w.pdf.SetFillColor(170, 170, 170)
			w.pdf.Rect(middle-radius, s.at(high), 2*radius, high-low, "F")
			w.rect(middle-radius, s.at(high), 2*radius, high-low, 0.2)
			w.pdf.SetFillColor(0, 0, 0)
		}
	}
	for _, d := range a.Spacers {
		w.disc(s, middle, 1000*d.Radius, 1000*(d.At-d.Thick/2), 1000*(d.At+d.Thick/2))
	}
	if c := a.Collar; c.Radius > 0 {
		w.disc(s, middle, 1000*c.Radius, 1000*c.At, 1000*c.At+3)
	}
	if g := a.Guard; g.Outside > 0 {
		for _, side := range []float64{-1, 1} {
			w.line(middle+side*1000*g.Outside, s.at(s.from), middle+side*1000*g.Outside, s.at(s.to), 0.2)
		}
	}
	w.stripMarks(marks, s, middle)
}

// disc draws a fitting about the rod, cut off at the sides where it is too wide.
func (w *writer) disc(s strip, middle, radius, from, to float64) {
	low, high, any := s.clipped(from, to)
	if !any {
		return
	}
	half := math.Min(radius, discMost)
	w.rect(middle-half, s.at(high), 2*half, high-low, 0.3)
}

// stripMarks writes the marks that lie on a strip.
func (w *writer) stripMarks(marks []mark, s strip, middle float64) {
	var here []mark
	for _, m := range marks {
		if mm := 1000 * m.s; mm >= s.from-0.01 && mm <= s.to+0.01 {
			here = append(here, m)
		}
	}
	at := func(m float64) float64 { return s.at(1000 * m) }
	spreadMarks(here, at, s.at(s.to), s.bottom)
	for _, m := range here {
		w.line(middle-8, at(m.s), middle+14, at(m.s), 0.15)
		w.line(middle+14, at(m.s), middle+18, m.y, 0.15)
		w.pdf.SetFillColor(255, 255, 255) // over a disc
		w.pdf.Rect(middle+18.5, m.y-2.3, w.wide(m.text)+1, 4.6, "F")
		w.pdf.SetFillColor(0, 0, 0)
		w.at(middle+19, m.y-2.2, m.text)
	}
	if s.from > 0 {
		w.at(middle-20, s.bottom+0.5, "goes on from "+w.u.Text(units.Length, s.from/1000))
	}
}

// fullMarks are the marks of a rod with its fittings and bends.
func (w *writer) fullMarks(a *job.Anode) []mark {
	length := func(m float64) string { return w.u.Text(units.Length, m) }
	out := w.marks(&a.Rod, a.Through)
	for _, d := range a.Spacers {
		out = append(out, mark{s: d.At, text: length(d.At) + "  spacer, " + length(2*d.Radius) + " across"})
	}
	if c := a.Collar; c.Radius > 0 {
		out = append(out, mark{s: c.At, text: length(c.At) + "  collar's underside"})
	}
	if n := len(a.Path); n > 2 && a.Slack == 0 {
		begin, end := along(&a.Rod, a.Path[1]), along(&a.Rod, a.Path[n-2])
		lower, upper := a.Path[1].Sub(a.Path[0]).Unit(), a.Path[n-1].Sub(a.Path[n-2]).Unit()
		angle := math.Acos(math.Min(1, lower.Dot(upper))) * 180 / math.Pi
		out = append(out, mark{s: begin, text: fmt.Sprintf("%s  bend of %.0f degrees begins", length(begin), angle)})
		if end > begin {
			out = append(out, mark{s: end, text: length(end) + "  bend ends (drawn straight)"})
		}
	}
	return out
}
