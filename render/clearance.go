package render

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"evenwall/geometry"
)

// Gap is a distance between bare rod metal and steel, with its two ends.
type Gap struct {
	Rod      string
	OnRod    geometry.Vec // m
	OnWall   geometry.Vec // m
	Distance float64      // m
}

// ClearanceScene is a tank with its rods and the tightest gaps between them.
type ClearanceScene struct {
	Scene
	Gap   Gap            // the tightest, bare metal under the liquid to wetted wall or sheet, nominal
	Rim   Gap            // the tightest of all bare metal to all steel, rim included; zero: not computed
	Worst float64        // m, least of both over the tolerance; NaN: not computed
	Limit float64        // m, what the gap is held against; 0: none stated
	Held  string         // which of the figures is held against the limit, in words: "worst case"
	Met   bool           // whether the limit is met
	Off   []geometry.Rod // rods where they come nearest within the tolerance; nil: not drawn
}

// Clearance draws the tightest gap between bare rod and steel as a dimension: in a section
// through it, magnified, and from above, beside the figures that it is judged by. It fails
// on a gap with ends that are not finite.
func Clearance(s ClearanceScene, set Settings) (*image.RGBA, error) {
	c, err := drawClearance(s, set)
	if err != nil {
		return nil, err
	}
	return c.image, nil
}

func drawClearance(s ClearanceScene, set Settings) (*canvas, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if !s.Gap.OnRod.IsFinite() || !s.Gap.OnWall.IsFinite() {
		return nil, fmt.Errorf("gap from %v to %v: both ends must be finite", s.Gap.OnRod, s.Gap.OnWall)
	}
	l, err := newLettering(set.width())
	if err != nil {
		return nil, err
	}
	d := &clearanceSheet{canvas: newCanvas(l, 3200), scene: &s, cut: s.cut()}
	y := d.header(s.Title, "Tightest gap between bare rod and steel: "+millimetres(s.Gap.Distance), s.Notes.Warnings)
	const side, gap = 660.0, 30.0 // width of the left column; between the columns
	right := margin + side + gap
	sectionEnd := d.section(rect{margin, y, margin + side, y + 620})
	closeEnd := d.magnified(rect{right, y, sheetWidth - margin, y + sheetWidth - margin - right})
	y = max(sectionEnd, closeEnd) + 16
	planEnd := d.plan(rect{margin, y, margin + side, y + 460})
	figuresEnd := d.figures(point{right, y}, sheetWidth-margin-right)
	y = max(planEnd, figuresEnd) + 20
	y = d.key(d.entries(), y) + 8
	y = d.smallPrint(s.Notes, y, "Distances are in the tank as drawn; the rod's own place is only as good as it was measured.")
	d.crop(y + margin/2)
	return d.canvas, nil
}

// clearanceSheet is the picture of the tightest gap in the making.
type clearanceSheet struct {
	*canvas
	scene *ClearanceScene
	cut   Cut
	scale float64 // layout units per metre of the section
}

// cut returns the plane through the gap that holds the rod's direction, turned so that up
// on the picture is as near as may be to the tank's up.
func (s *ClearanceScene) cut() Cut {
	up := geometry.Vec{Z: 1}
	across := s.Gap.OnWall.Sub(s.Gap.OnRod).Unit()
	axis := s.rodDirection()
	normal := across.Cross(axis)
	const parallel = 0.05 // sine: the gap runs on along the rod
	if normal.Norm() < parallel {
		normal = axis.Cross(up)
	}
	if normal.Norm() < parallel {
		normal = s.Sides.Left()
	}
	normal = normal.Unit()
	v := up.AddScaled(normal, -up.Dot(normal))
	if v.Norm() < parallel {
		v = axis.AddScaled(normal, -axis.Dot(normal))
	}
	v = v.Unit()
	u := v.Cross(normal)
	if side := u.Dot(s.Sides.Front()); side < -1e-9 || math.Abs(side) <= 1e-9 && u.Dot(s.Sides.Left()) > 0 {
		u = u.Scale(-1)
	}
	return Cut{Origin: s.Gap.OnRod, U: u, V: v}
}

// rodDirection returns the direction of the gap's rod nearest to the gap, upward if there
// is no such rod.
func (s *ClearanceScene) rodDirection() geometry.Vec {
	best, nearest := geometry.Vec{Z: 1}, math.Inf(1)
	for i := range s.Rods {
		r := &s.Rods[i]
		if s.Gap.Rod != "" && r.Name != s.Gap.Rod {
			continue
		}
		for k := 1; k < len(r.Path); k++ {
			a, b := r.Path[k-1], r.Path[k]
			way := b.Sub(a)
			t := min(max(s.Gap.OnRod.Sub(a).Dot(way)/way.Dot(way), 0), 1)
			if d := a.Lerp(b, t).Dist(s.Gap.OnRod); d < nearest {
				nearest, best = d, way.Unit()
			}
		}
	}
	return best
}

// section draws the whole section within the frame and returns the y below.
func (d *clearanceSheet) section(frame rect) float64 {
	middle := d.panelHeading("Section through the gap", frame)
	wall := d.cut.outline(&d.scene.Surface.Mesh)
	extent := bounds(append(wall, d.gapStretch()))
	top := extent.y1 + 0.15*extent.height()
	for i := range d.scene.Rods {
		for _, p := range d.scene.Rods[i].Path {
			extent.y1 = max(extent.y1, min(top, d.cut.flat(p).y))
		}
	}
	shown := d.closeUp()
	extent = extent.grow(0.02 * max(extent.width(), extent.height())).union(shown)
	inner := extent.fitted(rect{frame.x0 + nameRoom, middle, frame.x1 - nameRoom, frame.y1})
	l := d.cut.plate(extent, inner)
	d.scale = l.scale
	d.steel(wall, l, inner)
	d.rods(l, inner)
	d.offRods(l, inner)
	d.dimension(l.at(d.scene.Gap.OnRod), l.at(d.scene.Gap.OnWall), 3)
	corner, opposite := l.onto(point{shown.x0, shown.y1}), l.onto(point{shown.x1, shown.y0})
	square := rect{corner.x, corner.y, opposite.x, opposite.y}
	d.rectangle(square, pen{width: 2.5, colour: color.Black, dash: 8})
	d.sideNames(inner, d.cut.U)
	return inner.y1
}

// gapStretch is the gap in the plane of the section.
func (d *clearanceSheet) gapStretch() stretch {
	return stretch{a: d.cut.flat(d.scene.Gap.OnRod), b: d.cut.flat(d.scene.Gap.OnWall)}
}

// magnified draws the surroundings of the gap with its millimetres and returns the y below.
func (d *clearanceSheet) magnified(frame rect) float64 {
	middle := d.panelHeading("Close up", frame)
	inner := rect{frame.x0, middle, frame.x1, middle + frame.width()}
	l := d.cut.plate(d.closeUp(), inner)
	d.steel(d.cut.outline(&d.scene.Surface.Mesh), l, inner)
	d.rods(l, inner)
	d.offRods(l, inner)
	a, b := l.at(d.scene.Gap.OnRod), l.at(d.scene.Gap.OnWall)
	d.dimension(a, b, 4)
	d.measure(a, b, l, inner)
	d.rectangle(inner, pen{width: 3, colour: color.Black})
	return inner.y1
}

// closeUp is the square of the section that is drawn magnified, metres along U and V.
func (d *clearanceSheet) closeUp() rect {
	const times, least = 1.15, 0.012 // half its side: in gaps, and at least, m
	gap := d.gapStretch()
	half := max(gap.b.sub(gap.a).norm()*times, least)
	return around(gap.a.lerp(gap.b, 0.5), half, half)
}

// measure writes the gap's millimetres beside its dimension, within the frame and off the rods as far
// as there is room.
func (d *clearanceSheet) measure(a, b point, l *plate, frame rect) {
	s := style{size: large, bold: true, halo: true}
	words := millimetres(d.scene.Gap.Distance)
	w := d.width(words, s)
	along := b.sub(a).unit()
	off := point{-along.y, along.x}
	if off.y > 0 {
		off = off.times(-1)
	}
	reach := math.Abs(off.x)*w/2 + math.Abs(off.y)*s.size/2 + 22
	best, least := point{}, math.Inf(1)
	for _, side := range []float64{1, -1} {
		for _, t := range []float64{0.5, 0.75, 1, 1.25} {
			at := a.lerp(b, t).add(off.times(side * reach))
			at.x = min(max(at.x, frame.x0+w/2+8), frame.x1-w/2-8)
			at.y = min(max(at.y, frame.y0+s.size/2+8), frame.y1-s.size/2-8)
			if hidden := d.onRods(around(at, w/2+6, s.size/2+4), l); hidden < least {
				best, least = at, hidden
			}
		}
	}
	d.text(words, best, anchor{0.5, 0.5}, s)
}

// onRods returns how much of a rectangle the rods cover, in squares of the layout unit.
func (d *clearanceSheet) onRods(r rect, l *plate) float64 {
	sum := 0.0
	for _, rods := range [][]geometry.Rod{d.scene.Rods, d.scene.Off} {
		for i := range rods {
			for _, p := range rodPieces(&rods[i], l) {
				sum += areaOf(clip(p.hull, r))
			}
		}
	}
	return sum
}

// areaOf returns the area that a polygon encloses.
func areaOf(outline []point) float64 {
	twice := 0.0
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		twice += p.x*q.y - q.x*p.y
	}
	return math.Abs(twice) / 2
}

// plan draws the tank from above within the frame and returns the y below.
func (d *clearanceSheet) plan(frame rect) float64 {
	middle := d.panelHeading("From above", frame)
	front, left := d.scene.Sides.Front(), d.scene.Sides.Left()
	v := view{right: front, up: left, toward: geometry.Vec{Z: -1}}
	m := &d.scene.Surface.Mesh
	faces := make([]int32, len(m.Faces))
	for i := range faces {
		faces[i] = int32(i)
	}
	span := spanned(m, faces, v)
	inner := rect{frame.x0 + nameRoom, middle + nameRoom, frame.x1 - nameRoom, frame.y1 - nameRoom}
	inner = rect{0, 0, span.width(), span.height()}.fitted(inner)
	scale := inner.width() / span.width()
	l := &plate{right: v.right, up: v.up, toward: v.toward, origin: span.corner(v), x: inner.x0, y: inner.y0, scale: scale}
	d.shadow(faces, l, inner)
	for _, o := range d.scene.Openings {
		d.rimFromAbove(o, l)
	}
	d.rods(l, inner)
	d.offRods(l, inner)
	d.dimension(l.at(d.scene.Gap.OnRod), l.at(d.scene.Gap.OnWall), 3)
	d.ring(l.at(d.scene.Gap.OnRod), l.at(d.scene.Gap.OnWall))
	d.sideNames(inner, front)
	s := style{size: small}
	d.text(d.scene.Sides.Name(left), point{inner.centre().x, inner.y0 - nameRoom/2}, anchor{0.5, 0.5}, s)
	d.text(d.scene.Sides.Name(left.Scale(-1)), point{inner.centre().x, inner.y1 + nameRoom/2}, anchor{0.5, 0.5}, s)
	return inner.y1 + nameRoom
}

// rimFromAbove draws an opening's rim, dashed where the tank hides it.
func (d *clearanceSheet) rimFromAbove(o Opening, l *plate) {
	up := o.Axis.Unit().Z
	switch rim := o.rim(l); {
	case up > steepest:
		d.fill(rim, color.White)
		d.loop(rim, pen{width: 2.5, colour: color.Black})
	case up < -steepest:
		d.loop(rim, pen{width: 2, colour: color.Black, dash: 7})
	}
}

// shadow fills the tank's outline from above with a pale grey and draws its edge.
func (d *clearanceSheet) shadow(faces []int32, l *plate, frame rect) {
	padded := frame.grow(rimPixels / d.unit)
	px := d.pixels(padded)
	b := newBuffer(px.Dx(), px.Dy())
	on := &plate{right: l.right, up: l.up, toward: l.toward, origin: l.origin, x: rimPixels, y: rimPixels, scale: l.scale * d.unit}
	b.paint(&d.scene.Surface.Mesh, faces, on, nil)
	m := image.NewRGBA(image.Rect(0, 0, b.w, b.h))
	covered := func(x, y int) bool { return x >= 0 && y >= 0 && x < b.w && y < b.h && b.face[y*b.w+x] != nothing }
	for y := range b.h {
		for x := range b.w {
			switch {
			case !covered(x, y):
			case covered(x-2, y) && covered(x+2, y) && covered(x, y-2) && covered(x, y+2):
				m.SetRGBA(x, y, color.RGBA{232, 232, 232, 255})
			default:
				m.SetRGBA(x, y, color.RGBA{30, 30, 30, 255})
			}
		}
	}
	d.put(m, point{padded.x0, padded.y0})
}

// panelHeading writes a panel's title and returns the y below it.
func (d *clearanceSheet) panelHeading(title string, frame rect) float64 {
	d.text(title, point{frame.centre().x, frame.y0}, anchor{x: 0.5}, panelTitle)
	return frame.y0 + headingRoom
}

func (d *clearanceSheet) sideNames(inner rect, u geometry.Vec) {
	s := style{size: small}
	y := inner.centre().y
	d.upright(d.scene.Sides.Name(u.Scale(-1)), point{inner.x0 - nameRoom/2, y}, s)
	d.upright(d.scene.Sides.Name(u), point{inner.x1 + nameRoom/2, y}, s)
}

// steel draws the wall in a section within the frame, openings left open.
func (d *clearanceSheet) steel(wall []stretch, l *plate, frame rect) {
	var within []stretch
	for _, s := range onPicture(wall, l) {
		if a, b, ok := clipLine(s.a, s.b, frame); ok {
			s.a, s.b = a, b
			within = append(within, s)
		}
	}
	d.walls(within, func(face int) bool { return d.scene.Surface.state(face) == Open })
}

func (d *clearanceSheet) rods(l *plate, frame rect) {
	for i := range d.scene.Rods {
		d.solidRod(&d.scene.Rods[i], l, frame)
	}
}

// offRods draws the rods of the worst case as dashed outlines.
func (d *clearanceSheet) offRods(l *plate, frame rect) {
	for i := range d.scene.Off {
		for _, s := range shapesOf(rodPieces(&d.scene.Off[i], l), frame) {
			d.edge(&s, offPen)
		}
	}
}

// offPen draws a rod where it hangs at worst.
var offPen = pen{width: 2, colour: color.RGBA{90, 90, 90, 255}, dash: 6}

// entries lists the key.
func (d *clearanceSheet) entries() []swatch {
	length := lengthSwatch(d.scale, 190)
	length.words += " in the section"
	out := []swatch{length}
	bare, plastic := rodKinds(d.scene.Rods)
	if bare {
		out = append(out, filledSwatch("rod, bare", metal))
	}
	if plastic {
		out = append(out, filledSwatch("rod under plastic", color.RGBA{255, 255, 255, 255}))
	}
	if fitted(d.scene.Rods) {
		out = append(out, lineSwatch("spacer, collar, guard", fittingPen()))
	}
	if len(d.scene.Off) > 0 {
		out = append(out, swatch{width: 52, words: "rod at its worst", draw: func(c *canvas, r rect) {
			c.rectangle(r, offPen)
		}})
	}
	return out
}

// millimetres prints a distance to a tenth of a millimetre.
func millimetres(m float64) string { return fmt.Sprintf("%.1f mm", m*1000) }
