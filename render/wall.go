package render

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"
	"strconv"

	"evenwall/geometry"
)

// Wall draws the current density of the whole wall, seen from inside the tank: its six
// sides as if the tank were a box unfolded, and one panel more for each thing that stands
// in front of a side. Rods, openings and the liquid's line are drawn over it; the patches
// of the scene are hatched, numbered and listed. It fails on a surface whose lists do not
// match its facets, or on a scale without a range.
func Wall(s Scene, set Settings) (*image.RGBA, error) {
	c, err := drawWall(s, set)
	if err != nil {
		return nil, err
	}
	return c.image, nil
}

func drawWall(s Scene, set Settings) (*canvas, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if s.Scale == (Scale{}) {
		s.Scale = ScaleFor(s.Surface)
	}
	l, err := newLettering(set.width())
	if err != nil {
		return nil, err
	}
	a := arrange(&s.Surface, s.Sides)
	const tallest = 1250 // layout units for all panels
	titled := func(t string) float64 { return l.width(t, panelTitle) }
	scale, cells, bottom := pack(a.panels, titled, fullWidth, tallest)
	if scale == 0 {
		return nil, errNothing
	}
	w := &wallSheet{scene: &s, plans: a.panels, cells: cells, scale: scale}
	w.canvas = newCanvas(l, 2200+bottom)
	w.paint = newWallPaint(&s, s.Scale.bands(), l.unit)
	words := s.wording()
	y := w.header(s.Title, words.subject, s.Notes.Warnings)
	if s.charge {
		low, high, ok := s.Surface.wettedRange()
		y = w.bar(w.paint.bands, words.title, ranged(low, high, ok, words.unit), 0, y)
	} else {
		y = w.colourBar(w.paint.bands, &s.Surface, s.Least, y)
	}
	y = w.key(w.entries(), y) + 6
	y = w.panels(y) + 6
	w.numbers()
	y = w.list(y)
	y = w.smallPrint(s.Notes, y, a.remark())
	w.crop(y + margin/2)
	return w.canvas, nil
}

// errNothing is the error of a surface that has no area.
var errNothing = errors.New("no facet has an area: nothing to draw")

// remark says how much of the wall the panels show and what the further ones are.
func (a *arrangement) remark() string {
	words := fmt.Sprintf("All panels at one scale; in sight: %s %% of the wall's area.", strconv.FormatFloat(math.Floor(a.shown*1000)/10, 'f', -1, 64))
	if len(a.panels) > a.sides {
		words += " Inner walls and baffles stand in front of a side and have a panel of their own."
	}
	return words
}

// check reports what cannot be drawn.
func (s *Scene) check() error {
	if err := s.Surface.check(); err != nil {
		return err
	}
	if s.Scale != (Scale{}) && !s.Scale.valid() {
		return fmt.Errorf("scale from %g to %g A/m²: it needs 0 < low < high", s.Scale.Low, s.Scale.High)
	}
	for _, p := range s.Patches {
		for _, f := range p.Faces {
			if f < 0 || f >= len(s.Surface.Mesh.Faces) {
				return fmt.Errorf("patch %d names facet %d of %d: take patches from the same surface", p.Number, f, len(s.Surface.Mesh.Faces))
			}
		}
	}
	return checkRods(s.Rods)
}

func checkRods(rods []geometry.Rod) error {
	for _, r := range rods {
		if len(r.Path) < 2 || !(r.Radius > 0) {
			return fmt.Errorf("rod %q has %d points and a radius of %g mm: it needs two points and a thickness", r.Name, len(r.Path), r.Radius*1000)
		}
	}
	return nil
}

// panelTitle is the lettering above each panel.
var panelTitle = style{size: heading, bold: true}

// wallSheet is the picture of the wall in the making.
type wallSheet struct {
	*canvas
	scene   *Scene
	paint   *wallPaint
	plans   []panelPlan
	sides   int // how many of the plans, the first ones, are whole sides
	cells   []cell
	scale   float64 // layout units per metre
	spots   []spot
	remarks []string // for the small print
	taken   []rect   // kept free of numbers
}

// rimPixels is kept free around a panel's picture for the outline.
const rimPixels = 2

// entries lists the key: what the colours do not say.
func (w *wallSheet) entries() []swatch {
	entries := []swatch{lengthSwatch(w.scale, 190)}
	dark := w.paint.bands.colour[0]
	if hasPatch(w.scene.Patches, false) {
		entries = append(entries, w.paint.sampled(w.scene.wording().hatched, func(x, y int) color.RGBA { return w.paint.hatch(dark, x, y) }))
	}
	if hasPatch(w.scene.Patches, true) {
		entries = append(entries, w.paint.sampled("reached by no layout", func(x, y int) color.RGBA { return w.paint.crossed(dark, x, y) }))
	}
	bare, plastic := rodKinds(w.scene.Rods)
	if bare {
		entries = append(entries, lineSwatch("rod, bare", pen{width: 3, colour: color.Black}))
	}
	if plastic {
		entries = append(entries, lineSwatch("rod under plastic", pen{width: 3, colour: color.Black, dash: 9}))
	}
	if w.scene.liquidShows() {
		entries = append(entries, lineSwatch("level of the liquid", pen{width: 5, colour: liquidColour}))
	}
	return append(entries, w.paint.marks()...)
}

// hasPatch reports whether there is a patch that no layout reaches, or one that some layout does.
func hasPatch(patches []Patch, never bool) bool {
	for _, p := range patches {
		if p.Never == never {
			return true
		}
	}
	return false
}

// rodKinds reports whether any rod has bare metal and any has plastic.
func rodKinds(rods []geometry.Rod) (bare, plastic bool) {
	const rounding = 1e-6 // m
	for i := range rods {
		length := 0.0
		for _, s := range geometry.MergeSpans(rods[i].Bare, rods[i].Length()) {
			length += s.Length()
		}
		bare = bare || length > 0
		plastic = plastic || length < rods[i].Length()-rounding
	}
	return bare, plastic
}

// liquidShows reports whether the liquid's surface cuts the wall.
func (s *Scene) liquidShows() bool {
	if s.Liquid.Normal == (geometry.Vec{}) {
		return false
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range s.Surface.Mesh.Vertices {
		h := s.Liquid.Height(v)
		low, high = min(low, h), max(high, h)
	}
	return low < -atLevel && high > atLevel
}

// panels draws all views below y and returns the y below them.
func (w *wallSheet) panels(y float64) float64 {
	bottom := y
	for i := range w.plans {
		w.cells[i] = w.cells[i].moved(0, y)
		w.panel(i)
		bottom = max(bottom, w.cells[i].outer.y1)
	}
	return bottom + cellGap
}

// panel draws one view: the wall, what hangs in front of it, and the names around it.
func (w *wallSheet) panel(i int) {
	plan, inner := &w.plans[i], w.cells[i].inner
	origin := plan.span.corner(plan.view)
	on := &plate{right: plan.view.right, up: plan.view.up, toward: plan.view.toward, origin: origin, x: inner.x0, y: inner.y0, scale: w.scale}
	px := w.pixels(inner)
	fineScale := w.scale * w.unit * fine
	b := newBuffer((px.Dx()+2*rimPixels)*fine, (px.Dy()+2*rimPixels)*fine)
	samples := &plate{right: on.right, up: on.up, toward: on.toward, origin: origin, scale: fineScale}
	samples.x, samples.y = rimPixels*fine, rimPixels*fine
	b.paint(&w.scene.Surface.Mesh, plan.faces, samples, w.paint.corner)
	padded := inner.grow(rimPixels / w.unit)
	w.put(w.paint.picture(b, samples), point{padded.x0, padded.y0})
	w.spots = append(w.spots, w.paint.spots(b, i, padded)...)
	for k := range w.scene.Rods {
		w.rod(&w.scene.Rods[k], on, inner, func(ends [2]geometry.Vec) bool { return b.hides(ends, samples) })
	}
	for _, o := range w.scene.Openings {
		if o.Axis.Unit().Dot(on.toward) > steepest {
			w.opening(o, on, inner)
		}
	}
	w.names(plan, w.cells[i])
}

// rod draws a rod where the wall on the panel does not hide it, and keeps numbers off it.
func (w *wallSheet) rod(r *geometry.Rod, l *plate, frame rect, hidden func(ends [2]geometry.Vec) bool) {
	pieces := slices.DeleteFunc(rodPieces(r, l), func(p rodPiece) bool { return len(clip(p.hull, frame)) < 3 || hidden(p.ends) })
	for _, s := range shapesOf(pieces, frame) {
		p := pen{width: 3, colour: color.Black}
		if !s.bare {
			p.dash = 9
		}
		w.edge(&s, pen{width: p.width + 3, colour: color.White})
		w.edge(&s, p)
	}
	for _, piece := range pieces {
		for k := range 9 {
			q := l.at(piece.ends[0].Lerp(piece.ends[1], float64(k)/8))
			w.taken = append(w.taken, around(q, 4, 4))
		}
	}
}

// opening draws an opening's rim and, where there is room, its name.
func (w *wallSheet) opening(o Opening, l *plate, frame rect) {
	centre := l.at(o.Centre)
	if !frame.contains(centre) {
		return
	}
	rim := o.rim(l)
	w.outlined(rim, pen{width: 3, colour: color.Black})
	s := style{size: small, halo: true}
	below := centre.y
	for _, p := range rim {
		below = max(below, p.y)
	}
	at := point{centre.x, below + 4}
	if at.y+small > frame.y1 {
		at.y = centre.y - (below - centre.y) - small - 4
	}
	if at.y < frame.y0 { // no room on a panel this small
		return
	}
	half := w.width(o.Name, s) / 2
	at.x = min(max(at.x, frame.x0+half), frame.x1-half)
	w.text(o.Name, at, anchor{x: 0.5}, s)
}

// names writes a panel's title and the sides that its edges lead to.
func (w *wallSheet) names(plan *panelPlan, c cell) {
	middle := c.inner.centre()
	w.text(plan.title, point{c.outer.centre().x, c.outer.y0}, anchor{x: 0.5}, panelTitle)
	s := style{size: small}
	w.upright(plan.view.edge.left, point{c.inner.x0 - nameRoom/2, middle.y}, s)
	w.upright(plan.view.edge.right, point{c.inner.x1 + nameRoom/2, middle.y}, s)
	if plan.view.edge.top != "" {
		w.text(plan.view.edge.top, point{middle.x, c.inner.y0 - nameRoom/2}, anchor{0.5, 0.5}, s)
		w.text(plan.view.edge.bottom, point{middle.x, c.inner.y1 + nameRoom/2}, anchor{0.5, 0.5}, s)
	}
}

// list writes the patches with their place below y and returns the y below.
func (w *wallSheet) list(y float64) float64 {
	patches := w.scene.Patches
	if len(patches) == 0 {
		return y
	}
	w.text(w.listHeading(), point{margin, y}, anchor{}, style{size: heading, bold: true})
	y += 42
	for _, p := range patches {
		w.number(p.Number, point{margin + numberRadius, y + body/2})
		words := fmt.Sprintf("%s. %s cm², mean %s, least %s %s.", p.Words, figure(p.Area*1e4), figure(p.Mean), figure(p.Least), w.scene.wording().unit)
		if p.Never {
			words = fmt.Sprintf("%s. %s cm², reached by no layout within the limits.", p.Words, figure(p.Area*1e4))
		}
		y = w.paragraph(words, point{margin + 2*numberRadius + 14, y}, sheetWidth-2*margin-2*numberRadius-14, style{size: body}) + 12
	}
	return y + 8
}

// listHeading says which patches are listed and from where they are measured.
func (w *wallSheet) listHeading() string {
	from, words := "", w.scene.wording()
	if len(w.scene.Openings) > 0 {
		from = ", from the middle of the " + w.scene.Openings[0].Name
	}
	for _, p := range w.scene.Patches {
		if p.Least < w.scene.Least {
			return fmt.Sprintf("%s, below %s %s%s", words.listed, figure(w.scene.Least), words.unit, from)
		}
	}
	return words.listed + from
}

// numberRadius is that of a patch's number, layout units.
const numberRadius = 18.0

// number draws a patch's number in a disc.
func (c *canvas) number(n int, at point) {
	c.disc(at, numberRadius, color.White, pen{width: 3, colour: color.Black})
	c.text(strconv.Itoa(n), point{at.x, at.y + 1}, anchor{0.5, 0.5}, style{size: body, bold: true})
}
