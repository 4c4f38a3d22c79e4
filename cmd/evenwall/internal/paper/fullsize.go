package paper

import (
	"math"
	"reflect"

	"github.com/go-pdf/fpdf"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
)

// Full-size drawings, mm.
const (
	stripHead = 6.0  // free above and below a strip
	rodHalf   = 14.0 // to each side of a rod's middle that is kept for it
	leader    = 5.0  // from there to the words beside it
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

// madeOf says what a rod's fittings are cut from.
const madeOf = "Spacers: discs of polyethylene or polypropylene, which bear alkali, holed so that they grip, their edges rounded, with notches for gas and sludge to pass. Common practice, no source."

// fullSizeRod draws one rod in strips side by side, tip first, over as many pages as it takes.
func (w *writer) fullSizeRod(a *job.Anode, name string) {
	marks := w.fullMarks(a)
	if c := a.Collar; c.Radius > 0 {
		name += ", collar " + w.u.Text(units.Length, 2*c.Radius) + " across"
	}
	if g := a.Guard; g.Outside > 0 {
		name += ", guard tube " + w.u.Text(units.Length, 2*g.Outside) + " across"
	}
	if isBent(a) {
		name += ", drawn straight"
	}
	wide := 0.0
	w.font("", w.body)
	for _, m := range marks {
		wide = math.Max(wide, w.wide(m.text))
	}
	half := math.Max(halfWide(a), rodHalf)
	strips := 2
	if 2*half+leader+wide+3 > w.w/2 {
		strips = 1
		half = math.Min(half, (w.w-leader-wide-3)/2)
	}
	length := a.Length() * 1000
	for from := 0.0; from < length-0.5; {
		w.begin()
		w.heading("Full size: " + name)
		w.checkLine()
		if from == 0 && len(a.Spacers) > 0 {
			w.text(0, madeOf)
		}
		top, bottom := w.y+stripHead, w.bottom()-stripHead
		reach := math.Floor((bottom-top)/10) * 10 // mm of rod a strip
		for k := 0; k < strips && from < length-0.5; k++ {
			middle := w.x + float64(k)*w.w/float64(strips) + half + 1
			w.strip(a, marks, strip{middle: middle, half: half, bottom: bottom, from: from, to: math.Min(length, from+reach), length: length})
			from += reach
		}
	}
}

// halfWide returns half of what a rod takes across with all that is on it, mm.
func halfWide(a *job.Anode) float64 {
	most := math.Max(a.Radius, math.Max(a.Sleeve, math.Max(a.Guard.Outside, a.Collar.Radius)))
	for _, d := range a.Spacers {
		most = math.Max(most, d.Radius)
	}
	return 1000 * most
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
type strip struct {
	middle, half     float64 // of the rod on the page; what may be drawn to each side
	bottom, from, to float64
	length           float64 // of the whole rod
}

// at returns where a place along the rod is on the page.
func (s strip) at(mm float64) float64 { return s.bottom - (mm - s.from) }

// clipped returns the part of a stretch that the strip shows.
func (s strip) clipped(from, to float64) (low, high float64, any bool) {
	low, high = math.Max(from, s.from), math.Min(to, s.to)
	return low, high, high > low
}

// strip draws one stretch at its real size: plastic as an outline, metal grey, fittings and marks.
func (w *writer) strip(a *job.Anode, marks []mark, s strip) {
	radius, sleeve := 1000*a.Radius, math.Max(1000*a.Sleeve, 1000*a.Radius+0.5)
	round := !a.Flat && s.from == 0
	w.stretch(s, sleeve, s.from, s.to, round, 255)
	for _, b := range a.Bare {
		if low, high, any := s.clipped(1000*b.From, 1000*b.To); any {
			w.pdf.SetFillColor(255, 255, 255)
			w.pdf.Rect(s.middle-sleeve-0.3, s.at(high), 2*sleeve+0.6, high-low+0.3, "F")
			if low > s.from { // the plastic's end
				w.line(s.middle-sleeve, s.at(low), s.middle+sleeve, s.at(low), 0.3)
			}
			if high < s.to {
				w.line(s.middle-sleeve, s.at(high), s.middle+sleeve, s.at(high), 0.3)
			}
			w.stretch(s, radius, low, high, round && low == 0, 170)
		}
	}
	for _, d := range a.Spacers {
		w.disc(s, 1000*d.Radius, 1000*(d.At-d.Thick/2), 1000*(d.At+d.Thick/2))
	}
	if c := a.Collar; c.Radius > 0 {
		w.disc(s, 1000*c.Radius, 1000*c.At, 1000*c.At+3)
	}
	if g := 1000 * a.Guard.Outside; g > 0 && g <= s.half {
		for _, side := range []float64{-g, g} {
			w.line(s.middle+side, s.at(s.from), s.middle+side, s.at(s.to), 0.2)
		}
	}
	w.stripMarks(marks, s)
}

// stretch draws metal or plastic of a radius, filled in a grey, with a round lower end or a
// flat one.
func (w *writer) stretch(s strip, radius, low, high float64, round bool, level int) {
	const steps = 24
	outline := []fpdf.PointType{{X: s.middle - radius, Y: s.at(high)}, {X: s.middle - radius, Y: s.at(low)}, {X: s.middle + radius, Y: s.at(low)}, {X: s.middle + radius, Y: s.at(high)}}
	if round {
		deep := math.Min(radius, high-low)
		outline = append(outline[:1], outline[3])
		for k := 0; k <= steps; k++ {
			sin, cos := math.Sincos(math.Pi * float64(k) / steps)
			outline = append(outline, fpdf.PointType{X: s.middle + radius*cos, Y: s.at(low+deep) + deep*sin})
		}
	}
	w.pdf.SetFillColor(level, level, level)
	w.pdf.SetLineWidth(0.3)
	w.pdf.Polygon(outline, "FD")
	w.pdf.SetFillColor(0, 0, 0)
}

// disc draws a fitting about the rod; where it is too wide for the page it is open at the sides.
func (w *writer) disc(s strip, radius, from, to float64) {
	low, high, any := s.clipped(from, to)
	if !any {
		return
	}
	half := math.Min(radius, s.half)
	w.pdf.SetFillColor(255, 255, 255)
	w.pdf.Rect(s.middle-half, s.at(high), 2*half, high-low, "F")
	w.pdf.SetFillColor(0, 0, 0)
	for _, y := range []float64{s.at(high), s.at(low)} {
		w.line(s.middle-half, y, s.middle+half, y, 0.3)
	}
	if radius > s.half {
		return
	}
	for _, x := range []float64{s.middle - half, s.middle + half} {
		w.line(x, s.at(high), x, s.at(low), 0.3)
	}
}

// stripMarks writes the marks that lie on a strip, and where the rod goes on.
func (w *writer) stripMarks(marks []mark, s strip) {
	var here []mark
	for _, m := range marks {
		if mm := 1000 * m.s; mm >= s.from-0.01 && mm <= s.to+0.01 {
			here = append(here, m)
		}
	}
	at := func(m float64) float64 { return s.at(1000 * m) }
	spreadMarks(here, at, s.at(s.to), s.bottom)
	words := s.middle + s.half + leader
	for _, m := range here {
		w.line(s.middle-8, at(m.s), words-4, at(m.s), 0.15)
		w.line(words-4, at(m.s), words-0.5, m.y, 0.15)
		w.at(words, m.y-2.2, m.text)
	}
	if s.from > 0 {
		w.at(s.middle-s.half, s.bottom+0.7, "goes on from "+w.u.Text(units.Length, s.from/1000))
	}
	if s.to < s.length-0.5 {
		w.at(s.middle-s.half, s.at(s.to)-5.4, "goes on")
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
	return append(out, w.bendMarksOf(a)...)
}

// bendMarksOf are the marks of a stiff rod's bend, which is drawn straight.
func (w *writer) bendMarksOf(a *job.Anode) []mark {
	n := len(a.Path)
	if n < 3 || a.Slack > 0 {
		return nil
	}
	length := func(m float64) string { return w.u.Text(units.Length, m) }
	begin, end := along(&a.Rod, a.Path[1]), along(&a.Rod, a.Path[n-2])
	out := []mark{{s: begin, text: length(begin) + "  bend begins"}}
	if end > begin {
		out = append(out, mark{s: end, text: length(end) + "  bend ends"})
	}
	return out
}
