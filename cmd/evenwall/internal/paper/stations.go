package paper

import (
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/field/bath"
	"evenwall/geometry"
)

// stationPage is a page with the stations from first to before end.
func (w *writer) stationPage(first, end int) {
	w.begin()
	bottom := w.bottom()
	if end == len(w.Stations) {
		bottom -= w.reserved()
	}
	room := (bottom - w.y) / float64(end-first)
	for i := first; i < end; i++ {
		top := w.y
		w.station(i, top+room-3)
		w.y = top + room
	}
}

// station draws one station down to bottom.
func (w *writer) station(i int, bottom float64) {
	s := &w.Stations[i]
	w.heading(w.stationTitle(i))
	const drawing, gap = 62.0, 5.0
	height := w.rodHeight(s)
	top, x, whole := w.y, w.x, w.w
	across := drawing / float64(len(s.Anodes))
	for k := range s.Anodes {
		w.rodDrawing(&s.Anodes[k], x+float64(k)*across, top, across, height)
	}
	w.x, w.w = x+drawing+gap, whole-drawing-gap
	w.turn(i)
	w.hang(s)
	w.readings(s)
	w.reach(s)
	w.x, w.w = x, whole
	w.y = math.Max(w.y, top+height) + 2
	w.timetable(s, bottom)
}

// rodHeight is how much of the page a rod's drawing takes, mm.
func (w *writer) rodHeight(s *bench.Station) float64 {
	const least, most = 52.0, 90.0
	if len(w.Stations) > 1 {
		return least
	}
	return most
}

func (w *writer) stationTitle(i int) string {
	s := &w.Stations[i]
	name := "Rod and times"
	if len(w.Stations) > 1 {
		name = "Station " + numberOf(i)
		if s.Name != "" && s.Name != "station "+numberOf(i) {
			name += ", " + s.Name
		}
	}
	h := s.Hours()
	if h.Mid == 0 {
		return name + ": no time known"
	}
	return fmt.Sprintf("%s: %s h with the current on (%s to %s h)", name, rounded(h.Mid), rounded(h.Low), rounded(h.High))
}

// rounded writes hours with two digits or so.
func rounded(h float64) string {
	if h >= 10 || h == math.Trunc(h) {
		return fmt.Sprintf("%.0f", h)
	}
	return fmt.Sprintf("%.1f", h)
}

// hang says where the rods hang.
func (w *writer) hang(s *bench.Station) {
	if len(w.Stations) > 1 {
		w.tick("Stand:", w.props(s.Attitude)+".")
	}
	for k := range s.Anodes {
		a := &s.Anodes[k]
		name := "Rod:"
		if len(s.Anodes) > 1 {
			name = a.Name + ":"
		}
		text := w.place(&a.Rod, a.Through)
		if o := w.opening(a.Through); o != nil {
			clock := clockOf(o, w.Job.Tank.Sides).words()
			rim, said := strings.CutSuffix(w.atRim(a, o, s.Attitude), clock)
			rim += w.turned(a, o)
			if text += rim; said || isBent(a) || isLying(a) {
				text += clock
			}
		}
		w.tick(name, text)
	}
}

// place says where a rod passes its opening and where its tip is.
func (w *writer) place(r *geometry.Rod, through string) string {
	text := fmt.Sprintf("%s across, through the %s", w.u.Text(units.Length, 2*r.Radius), through)
	o := w.opening(through)
	tip := r.Path[0]
	if o == nil {
		return text + "."
	}
	aside := math.Abs(o.Axis.Z) < lying
	flat := func(d geometry.Vec) geometry.Vec {
		if aside {
			return d.AddScaled(o.Axis, -d.Dot(o.Axis))
		}
		return d.WithAxis(2, 0)
	}
	if at, ok := passes(r, o); ok {
		text += ", " + w.offset(flat(at.Sub(o.Centre))) + " its middle"
	}
	in := o.Centre.Sub(tip)
	depth := w.u.Text(units.Length, in.Z) + " under the rim"
	if aside {
		depth = w.u.Text(units.Length, in.Dot(o.Axis)) + " in from the rim"
	}
	return text + fmt.Sprintf(". Tip %s, %s its middle. Bare where black, plastic where white.", depth, w.offset(flat(in.Scale(-1))))
}

// offset says how far along the tank's sides a place is off another: "12 mm to the front of".
func (w *writer) offset(d geometry.Vec) string {
	const near = 0.0015 // m
	var parts []string
	last := " of"
	for _, side := range w.Job.Tank.Sides.All() {
		off := d.Dot(side.Direction)
		if off <= near {
			continue
		}
		switch side.Name {
		case "top":
			parts, last = append(parts, w.u.Text(units.Length, off)), " above"
		case "bottom":
			parts, last = append(parts, w.u.Text(units.Length, off)), " below"
		default:
			parts = append(parts, w.u.Text(units.Length, off)+" to the "+side.Name)
		}
	}
	if len(parts) == 0 {
		return "in"
	}
	return strings.Join(parts, " and ") + last
}

func (w *writer) opening(name string) *Opening {
	for i := range w.Outline.Openings {
		if w.Outline.Openings[i].Name == name {
			return &w.Outline.Openings[i]
		}
	}
	return nil
}

// passes returns where the rod's axis goes through the plane of an opening.
func passes(r *geometry.Rod, o *Opening) (geometry.Vec, bool) {
	plane := geometry.PlaneThrough(o.Centre, o.Axis)
	for i := 1; i < len(r.Path); i++ {
		a, b := plane.Height(r.Path[i-1]), plane.Height(r.Path[i])
		if (a < 0) != (b < 0) {
			return r.Path[i-1].Lerp(r.Path[i], a/(a-b)), true
		}
	}
	return geometry.Vec{}, false
}

// readings is the table of what the meters should show.
func (w *writer) readings(s *bench.Station) {
	settled := s.Settled(w.Job)
	rows := [][]string{{"", "amps", "V rod to tank"}}
	add := func(name string, r bench.Readings) {
		rows = append(rows, []string{name, figures(w.u, units.Amps, r.Amps), figures(w.u, units.Volts, r.Across)})
	}
	add("first minutes", s.First(w.Job))
	add("after 10 min", settled)
	add("scrub at "+percent(1-bench.Fallen(w.Job)), s.Crusted(w.Job))
	w.y += 1
	w.table(rows, []float64{0.32, 0.34, 0.34})
}

// reach says how much wall these rods reach.
func (w *writer) reach(s *bench.Station) {
	w.y += 1
	w.text(0, fmt.Sprintf("Reaches %s of the wetted wall.", percent(s.Reached)))
	for _, r := range s.Wear(w.Job) {
		text := w.wear(r)
		if len(s.Anodes) > 1 {
			text = r.Rod + ": " + strings.ToLower(text[:1]) + text[1:]
		}
		w.text(0, text)
	}
	w.y += 1
	third := w.w / 3
	x := w.blank(w.x, w.y+1, third+6, "After 10 min:")
	w.at(x+0.5, w.y+1, "A")
	x = w.blank(x+5, w.y+1, third-22, "")
	w.at(x+0.5, w.y+1, "V rod to tank")
	w.y += w.step() + 2
}

// figures writes a range for a narrow column.
func figures(u units.System, of units.Unit, r bath.Range) string {
	text := strings.TrimSuffix(u.Span(of, r), u.Name(of))
	return strings.TrimSpace(text)
}

// table writes rows of text with rules between; shares are of the column's width.
func (w *writer) table(rows [][]string, shares []float64) {
	high := w.step() + 1.2
	for i, row := range rows {
		x := w.x
		if i == 0 {
			w.font("B", w.body)
		}
		for k, cell := range row {
			w.at(x+0.8, w.y+0.7, cell)
			x += shares[k] * w.w
		}
		w.font("", w.body)
		w.y += high
		w.line(w.x, w.y, w.x+w.w, w.y, 0.2)
	}
}

// timetable is rows to tick and to write in, one a session, as many as the page has room for.
func (w *writer) timetable(s *bench.Station, bottom float64) {
	high := 7.6
	if len(w.Stations) > 1 {
		high = 6.4
	}
	session := bench.Session(w.Job)
	n := s.Sessions(session)
	w.font("B", w.body)
	w.at(w.x, w.y, fmt.Sprintf("%s of %s h, attended; polarity read before each. Look every hour; scrub every 3 h, off.", plural(n, "session"), rounded(session/3600)))
	w.font("", w.body)
	w.y += w.step() + 1
	heads := []string{"", "session", "date, from", "volts", "amps", "temp", "looked, hourly", "scrubbed"}
	shares := []float64{0.05, 0.21, 0.16, 0.105, 0.105, 0.10, 0.155, 0.115}
	x := w.x
	for k, head := range heads {
		w.at(x+0.6, w.y, head)
		x += shares[k] * w.w
	}
	w.y += w.step() + 0.4
	fit := int((bottom - w.y) / high)
	shown := n
	if shown > fit {
		shown = fit - 1
	}
	for k := range max(shown, 0) {
		w.row(s, k, session, shares, high)
	}
	if shown < n {
		w.at(w.x, w.y+1, fmt.Sprintf("and so on to session %d, until %s h are made up: rule the same rows on the back.", n, rounded(s.Hours().Mid)))
	}
}

// row is one session's line in the timetable.
func (w *writer) row(s *bench.Station, k int, session float64, shares []float64, high float64) {
	total := s.Seconds()
	from, to := float64(k)*session, math.Min(float64(k+1)*session, total)
	x := w.x
	for c := range shares {
		width := shares[c] * w.w
		w.rect(x, w.y, width, high, 0.2)
		switch c {
		case 0:
			w.rect(x+2, w.y+(high-boxSize)/2, boxSize, boxSize, 0.35)
		case 1:
			w.at(x+1, w.y+(high-boxSize)/2-0.2, fmt.Sprintf("%d: %s to %s h", k+1, rounded(from/3600), rounded(to/3600)))
		case 6:
			looks := int(math.Max(1, math.Min(4, math.Ceil((to-from)/3600-1e-9))))
			for b := range looks {
				w.rect(x+1.5+5.6*float64(b), w.y+(high-boxSize)/2, boxSize, boxSize, 0.35)
			}
		case 7:
			w.rect(x+5, w.y+(high-boxSize)/2, boxSize, boxSize, 0.35)
		}
		x += width
	}
	w.y += high
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
