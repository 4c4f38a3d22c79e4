package paper

import (
	"math"
	"sort"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/geometry"
)

// mark is a place along a rod with what is written beside it.
type mark struct {
	s    float64 // m from the tip
	text string
	y    float64 // of the text's middle on the page, mm
}

// rodDrawing draws a rod along its own axis with its marks, upright, tip down, from the corner
// of a box of the page downward. Where the box has no room for the words, marks have their figure only:
// the drawing at full size has the words.
func (w *writer) rodDrawing(a *job.Anode, x, y, width, height float64) {
	const pad = 3.0
	r := &a.Rod
	length := r.Length()
	scale := (height - 2*pad) / length
	thick := math.Min(math.Max(2*r.Radius*scale, 2.2), 6)
	tube := thick + 1.8
	middle := x + 6
	at := func(s float64) float64 { return y + height - pad - s*scale }
	w.rect(middle-tube/2, at(length), tube, length*scale, 0.35)
	w.pdf.SetFillColor(0, 0, 0)
	for _, bare := range r.Bare {
		w.pdf.SetFillColor(255, 255, 255)
		w.pdf.SetDrawColor(255, 255, 255)
		w.pdf.Rect(middle-tube/2-0.3, at(bare.To), tube+0.6, bare.Length()*scale, "FD")
		w.grey(0)
		w.pdf.SetFillColor(0, 0, 0)
		w.pdf.Rect(middle-thick/2, at(bare.To), thick, bare.Length()*scale, "F")
	}
	marks := append(w.marks(r, a.Through), w.bendMarksOf(a)...)
	spreadMarks(marks, at, y+2.5, y+height-2.5)
	for _, m := range marks {
		w.line(middle+tube/2+0.5, at(m.s), middle+tube/2+4, m.y, 0.2)
		text := m.text
		if beside := middle + tube/2 + 4.8; beside+w.wide(text) > x+width {
			text, _, _ = strings.Cut(text, "  ")
		}
		w.at(middle+tube/2+4.8, m.y-2.2, text)
	}
}

// marks are the places along a rod that are measured off from its tip.
func (w *writer) marks(r *geometry.Rod, through string) []mark {
	length := func(s float64) string { return w.u.Text(units.Length, s) }
	var out []mark
	end := "round tip"
	if r.Flat {
		end = "flat tip"
	}
	whole := r.Length()
	top := whole
	out = append(out, mark{s: 0, text: "0  " + end})
	for _, b := range r.Bare {
		if b.From > 0 {
			out = append(out, mark{s: b.From, text: length(b.From) + "  plastic below"})
		}
		if b.To < whole {
			out = append(out, mark{s: b.To, text: length(b.To) + "  plastic above"})
		}
	}
	if o := w.opening(through); o != nil {
		if p, ok := passes(r, o); ok {
			s := along(r, p)
			top = math.Max(top, s+w.aboveRim())
			out = append(out, mark{s: s, text: length(s) + "  mark, at the rim"})
		}
	}
	return append(out, mark{s: whole, text: length(top) + "  top, or longer"})
}

// aboveRim returns how far a rod stands above the rim at least, m: out of the riser, with room for
// the clip.
func (w *writer) aboveRim() float64 {
	const clip = 0.04 // m
	if w.Job.Riser.Height == 0 {
		return 0
	}
	return w.Job.Riser.Height + clip
}

// along returns how far from the tip a point of the axis is, m.
func along(r *geometry.Rod, p geometry.Vec) float64 {
	start := 0.0
	for i := 1; i < len(r.Path); i++ {
		a, b := r.Path[i-1], r.Path[i]
		leg := b.Sub(a)
		t := p.Sub(a).Dot(leg) / leg.Dot(leg)
		if t >= -1e-9 && t <= 1+1e-9 && p.Dist(a.AddScaled(leg, t)) < 1e-6 {
			return start + t*leg.Norm()
		}
		start += leg.Norm()
	}
	return start
}

// spreadMarks places the texts beside their marks, none nearer to the next than a line.
func spreadMarks(marks []mark, at func(float64) float64, top, bottom float64) {
	const apart = 5.0
	sort.SliceStable(marks, func(i, k int) bool { return marks[i].s > marks[k].s })
	for i := range marks {
		marks[i].y = math.Max(at(marks[i].s), top)
		if i > 0 {
			marks[i].y = math.Max(marks[i].y, marks[i-1].y+apart)
		}
	}
	for i := len(marks) - 1; i >= 0; i-- {
		limit := bottom
		if i < len(marks)-1 {
			limit = marks[i+1].y - apart
		}
		marks[i].y = math.Min(marks[i].y, limit)
	}
}
