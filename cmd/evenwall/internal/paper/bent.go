package paper

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-pdf/fpdf"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/geometry"
)

// isBent reports whether an anode is a stiff rod bent once.
func isBent(a *job.Anode) bool { return a.Bend.Radius > 0 && len(a.Path) > 3 }

// legs returns the directions of a bent rod's foot, from the bend to the tip, and of its shank
// upward, each of length 1.
func legs(a *job.Anode) (foot, shank geometry.Vec) {
	n := len(a.Path)
	return a.Path[0].Sub(a.Path[1]).Unit(), a.Path[n-1].Sub(a.Path[n-2]).Unit()
}

// footSide returns the side of the shank that the foot lies on, of length 1.
func footSide(a *job.Anode) geometry.Vec {
	foot, shank := legs(a)
	return foot.AddScaled(shank, -foot.Dot(shank)).Unit()
}

// isLying reports whether an anode is a flexible one that lies on spacers.
func isLying(a *job.Anode) bool { return a.Slack > 0 && len(a.Spacers) > 0 }

// turned says how a bent rod is turned in its opening, or which way a flexible one is fed in.
func (w *writer) turned(a *job.Anode, o *Opening) string {
	c := clockOf(o, w.Job.Tank.Sides)
	if isLying(a) {
		return fmt.Sprintf(" Flexible: fed in with its tip toward %s until the mark is at the rim, it lies on its spacers. Nobody sees how: feel for it with a stiff wire.",
			c.hour(footSide(a)))
	}
	if !isBent(a) {
		return ""
	}
	return fmt.Sprintf(" Bent by %.0f degrees: draw a line along the upper leg, on the side that the lower leg points to; at the rim that line faces %s.",
		a.Turning()*180/math.Pi, c.hour(footSide(a)))
}

// bentPages draws every bent rod's bend at full size and says how it is threaded in.
func (w *writer) bentPages() {
	for i := range w.Stations {
		s := &w.Stations[i]
		for k := range s.Anodes {
			if a := &s.Anodes[k]; isBent(a) {
				w.bendPage(s, k, w.rodName(i, a))
			}
		}
	}
}

// bendPage is the page of one bent rod.
func (w *writer) bendPage(s *bench.Station, rod int, name string) {
	a := &s.Anodes[rod]
	w.begin()
	w.heading("Full size: " + name + ", its bend and its way in")
	w.checkLine()
	former := 2 * (a.Bend.Radius - a.Radius)
	w.text(0, fmt.Sprintf("Bend it by %.0f degrees, bare and cold, round a former %s across (common practice, no source), and lay it on the drawing. Over the bend plastic is hose, not pipe.",
		a.Turning()*180/math.Pi, w.u.Text(units.Length, former)))
	steps := slices.Clone(s.WayIn[rod])
	if o := w.opening(a.Through); o != nil {
		steps = append(steps, "As it hangs:"+w.turned(a, o)+clockOf(o, w.Job.Tank.Sides).words())
	}
	if err := w.bend(a, w.bottom()-w.y-w.heightOf(steps)); err != nil {
		w.text(0, err.Error())
	}
	w.heading("Getting it in, dry, supply off")
	for i, step := range steps {
		w.tick(fmt.Sprintf("%d.", i+1), w.u.Summary(step))
	}
}

// heightOf returns what ticked paragraphs under a heading take of the page, mm.
func (w *writer) heightOf(steps []string) float64 {
	w.font("", w.body)
	high := 3 * w.step()
	for _, step := range steps {
		high += float64(len(w.wrapAfter(w.u.Summary(step), w.w-boxSize-2, 6)))*w.step() + 0.6
	}
	return high + 2
}

// bendDrawing is a bent rod on the page in the plane of its bend, mm: the shank upright, the foot
// to the right.
type bendDrawing struct {
	geometry.Rod
	corner geometry.Vec  // where the axes of the legs meet
	turn   float64       // rad
	shown  geometry.Span // what the page has room for
}

// drawBend lays a bent rod out from a corner on the page.
func drawBend(a *job.Anode, corner geometry.Vec) (bendDrawing, error) {
	d := bendDrawing{Rod: a.Rod, corner: corner, turn: a.Turning()}
	sin, cos := math.Sincos(d.turn)
	foot, shank := legsOf(a)
	var err error
	d.Path, err = geometry.Bent(corner.Add(geometry.V(sin, cos, 0).Scale(foot)), corner, corner.Add(geometry.V(0, -shank, 0)), 1000*a.Bend.Radius)
	d.shown = geometry.Span{From: 0, To: d.Length()}
	return d, err
}

// legsOf returns how far tip and top are from the corner, mm.
func legsOf(a *job.Anode) (foot, shank float64) {
	return 1000 * a.Path[0].Dist(a.Bend.Corner), 1000 * a.Path[len(a.Path)-1].Dist(a.Bend.Corner)
}

// bend draws the bend with as much of both legs as a box of the column's width and of a height
// has room for.
func (w *writer) bend(a *job.Anode, height float64) error {
	const pad, words, least = 7.0, 48.0, 60.0
	height = math.Max(height, least)
	thick := 1000 * math.Max(a.Radius, a.Sleeve)
	sin, cos := math.Sincos(a.Turning())
	foot, shank := legsOf(a)
	foot = math.Min(foot, (w.w-words-2*thick-pad)/math.Max(sin, 0.05))
	room := height - 2*pad - 2*thick
	if cos > 0 {
		foot = math.Min(foot, room/2/math.Max(cos, 0.05))
		room -= foot * cos
	} else {
		foot = math.Min(foot, room/math.Max(-cos, 0.05))
	}
	shank = math.Min(shank, room)
	up := math.Max(shank, -foot*cos)
	d, err := drawBend(a, geometry.V(w.x+thick+2, w.y+pad+thick+up, 0))
	if err != nil {
		return err
	}
	wholeFoot, wholeShank := legsOf(a)
	d.shown.From += wholeFoot - foot
	d.shown.To -= wholeShank - shank
	from := 0.0
	for _, b := range append(slices.Clone(a.Bare), geometry.Span{From: a.Length(), To: a.Length()}) {
		w.bentOutline(&d, 1000*math.Max(a.Sleeve, a.Radius+0.0005), 255, geometry.Span{From: 1000 * from, To: 1000 * b.From})
		w.bentOutline(&d, 1000*a.Radius, 170, geometry.Span{From: 1000 * b.From, To: 1000 * b.To})
		from = b.To
	}
	w.bendMarks(&d)
	w.y += height
	return nil
}

// bentOutline draws a stretch of the rod as far as it is shown, filled in a grey.
func (w *writer) bentOutline(d *bendDrawing, radius float64, level int, over geometry.Span) {
	var left, right []fpdf.PointType
	for _, piece := range d.Pieces(math.Max(over.From, d.shown.From), math.Min(over.To, d.shown.To)) {
		along := piece[1].Sub(piece[0]).Unit()
		for _, p := range piece {
			left = append(left, fpdf.PointType{X: p.X - radius*along.Y, Y: p.Y + radius*along.X})
			right = append(right, fpdf.PointType{X: p.X + radius*along.Y, Y: p.Y - radius*along.X})
		}
	}
	slices.Reverse(right)
	if len(left) == 0 {
		return
	}
	w.pdf.SetFillColor(level, level, level)
	w.pdf.SetLineWidth(0.3)
	w.pdf.Polygon(append(left, right...), "FD")
	w.pdf.SetFillColor(0, 0, 0)
}

// bendMarks draws the axes of the legs to their corner and says where the bend is.
func (w *writer) bendMarks(d *bendDrawing) {
	n := len(d.Path)
	begin, end := d.Path[1], d.Path[n-2]
	for _, p := range [2]geometry.Vec{begin, end} {
		w.line(p.X, p.Y, d.corner.X, d.corner.Y, 0.15)
	}
	thick := math.Max(d.Radius, d.Sleeve) * 1000
	text := func(s float64, words string) string { return w.u.Text(units.Length, s/1000) + "  " + words }
	mm := d.Path[0].Dist(begin)
	over := d.Length() - d.Path[n-1].Dist(end)
	w.crossLine(d, mm, thick)
	w.crossLine(d, over, thick)
	down := thick + 2.0
	if math.Cos(d.turn) > 0 {
		down = -thick/2 - 4
	}
	w.at(begin.X+thick*math.Cos(d.turn)+1.5, begin.Y+down, text(mm, "bend begins"))
	w.at(end.X+thick+2, end.Y-2.2, text(over, "bend ends"))
	tip, _ := d.At(d.shown.From)
	top, _ := d.At(d.shown.To)
	words := "0  tip"
	if d.shown.From > 0.5 {
		words = "goes on to the tip"
	}
	w.at(tip.X+2+thick*math.Max(0, math.Cos(d.turn)), tip.Y+down, words)
	if d.shown.To < d.Length()-0.5 {
		w.at(top.X+thick+2, top.Y, "goes on to the top")
	}
}

// crossLine draws a line across the rod so many mm from the tip.
func (w *writer) crossLine(d *bendDrawing, s, thick float64) {
	if s < d.shown.From || s > d.shown.To {
		return
	}
	p, along := d.At(s)
	across := geometry.V(-along.Y, along.X, 0).Scale(thick + 2)
	w.line(p.X-across.X, p.Y-across.Y, p.X+across.X, p.Y+across.Y, 0.2)
}
