package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"

	"evenwall/geometry"
	"evenwall/render/colormap"
)

// SectionScene is a flat section through the tank with lines of equal potential.
type SectionScene struct {
	Scene
	Cut       Cut
	Potential func(p geometry.Vec) (volts float64, ok bool) // in the liquid; ok is false elsewhere
}

// Section draws the tank cut open: lines of equal potential in the liquid, the wall with
// its current density as a coloured band, rods with their bare and plastic stretches, and
// the liquid's level. It fails where the plane misses the surface.
func Section(s SectionScene, set Settings) (*image.RGBA, error) {
	c, err := drawSection(s, set)
	if err != nil {
		return nil, err
	}
	return c.image, nil
}

func drawSection(s SectionScene, set Settings) (*canvas, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := s.Cut.check(); err != nil {
		return nil, err
	}
	wall := s.Cut.outline(&s.Surface.Mesh)
	if len(wall) == 0 {
		return nil, fmt.Errorf("the section through %v does not meet the tank: move its origin into the tank", s.Cut.Origin)
	}
	if s.Scale == (Scale{}) {
		s.Scale = ScaleFor(s.Surface)
	}
	l, err := newLettering(set.width())
	if err != nil {
		return nil, err
	}
	d := &sectionSheet{canvas: newCanvas(l, 3000), scene: &s, bands: s.Scale.bands(), flat: wall}
	y := d.header(s.Title, d.subject(), s.Notes.Warnings)
	y = d.colourBar(d.bands, &s.Surface, s.Least, y)
	d.place(0)
	d.sample()
	d.mask = newMask(d.wall, d.pixels(d.frame), d.unit)
	y = d.key(d.entries(), y) + 10
	d.place(y)
	d.liquid()
	d.band()
	d.steel()
	d.things()
	d.names()
	d.labels()
	y = d.smallPrint(s.Notes, d.frame.y1+34, d.remarks()...)
	d.crop(y + margin/2)
	return d.canvas, nil
}

// sectionSheet is the picture of a section in the making.
type sectionSheet struct {
	*canvas
	scene *SectionScene
	bands bands
	flat  []stretch // the wall in metres along U and V
	wall  []stretch // the wall on the picture
	frame rect
	plate *plate
	field samples // the potential, V
	step  float64 // between lines of equal potential, V; 0: none
	mask  mask
	marks labelPlaces
}

// place puts the picture below y, as large as it goes.
func (d *sectionSheet) place(y float64) {
	const tallest = 900 // layout units
	extent := d.extent(d.flat)
	d.frame = extent.fitted(rect{margin + nameRoom, y, sheetWidth - margin - nameRoom, y + tallest})
	d.plate = d.scene.Cut.plate(extent, d.frame)
	d.wall = onPicture(d.flat, d.plate)
	d.field.origin = point{d.frame.x0, d.frame.y0}
}

func (d *sectionSheet) subject() string {
	return "The tank cut open. Fine lines: equal potential in the liquid. Band along the wall: its current density."
}

// bandWidth is that of the coloured band along the wall, layout units.
const bandWidth = 16.0

// extent returns the part of the plane to draw, metres along U and V: the wall and a
// stretch of the rods above it.
func (d *sectionSheet) extent(wall []stretch) rect {
	const above, around = 0.12, 0.035 // of the wall's height and of its longer side
	e := bounds(wall)
	top := e.y1 + above*e.height()
	for i := range d.scene.Rods {
		for _, p := range d.scene.Rods[i].Path {
			e.y1 = max(e.y1, min(top, d.scene.Cut.flat(p).y))
		}
	}
	return e.grow(around * max(e.width(), e.height()))
}

// remarks says when a rod is not in the plane of the section.
func (d *sectionSheet) remarks() []string {
	for i := range d.scene.Rods {
		r := &d.scene.Rods[i]
		for _, p := range r.Path {
			if math.Abs(p.Sub(d.scene.Cut.Origin).Dot(d.scene.Cut.toward())) > r.Radius {
				return []string{"A rod that does not lie in the section is drawn as it looks from in front of it."}
			}
		}
	}
	return nil
}

// sample evaluates the potential on a grid over the frame and chooses the step between
// lines.
func (d *sectionSheet) sample() {
	const step, wanted = 4, 10 // layout units; lines, about
	s := &d.field
	s.w, s.h, s.step = int(d.frame.width()/step)+1, int(d.frame.height()/step)+1, step
	s.value = make([]float64, s.w*s.h)
	for k := range s.h {
		for i := range s.w {
			s.value[k*s.w+i] = math.NaN()
			if d.scene.Potential == nil {
				continue
			}
			if v, ok := d.scene.Potential(d.plate.back(s.at(i, k), 0)); ok {
				s.value[k*s.w+i] = v
			}
		}
	}
	if least, most, ok := s.ends(); ok && most > least {
		d.step = roundUp((most - least) / wanted)
	}
}

// liquid paints the potential in steps and draws its lines.
func (d *sectionSheet) liquid() {
	d.mask = newMask(d.wall, d.pixels(d.frame), d.unit)
	if d.step == 0 {
		return
	}
	least, most, _ := d.field.ends()
	d.field.extend(3)
	tint := image.NewRGBA(image.Rect(0, 0, d.mask.w, d.mask.h))
	for y := range d.mask.h {
		for x := range d.mask.w {
			p := d.mask.middle(x, y)
			if v := d.field.interpolate(p); !math.IsNaN(v) && d.wet(p) {
				stepped := (math.Floor(v/d.step) + 0.5) * d.step
				tint.SetRGBA(x, y, colormap.Tint((stepped-least)/(most-least)))
			}
		}
	}
	d.put(tint, d.mask.corner)
	d.contours(least, most)
}

// wet reports whether a place on the picture lies in the tank and not above the level.
func (d *sectionSheet) wet(p point) bool {
	return d.mask.has(p) && d.scene.Liquid.Height(d.plate.back(p, 0)) <= 0
}

// contours draws the lines of equal potential and looks for room for a label on each.
func (d *sectionSheet) contours(least, most float64) {
	d.marks.keep = d.keepOff()
	for n := math.Ceil(least / d.step); n*d.step < most; n++ {
		level := n * d.step
		var longest []point
		for _, line := range d.field.contour(level) {
			for _, run := range runs(line, d.wet) {
				d.line(run, contourPen())
				if lengthOf(run) > lengthOf(longest) {
					longest = run
				}
			}
		}
		d.marks.add(longest, figure(level)+" V")
	}
}

// contourPen is that of a line of equal potential.
func contourPen() pen { return pen{width: 1.6, colour: color.RGBA{60, 60, 60, 255}} }

// labels writes the volts on the lines that have room.
func (d *sectionSheet) labels() {
	s := style{size: small, halo: true}
	for _, l := range d.marks.placed {
		d.blank(l, s)
		d.text(l.text, l.at, anchor{0.5, 0.5}, s)
	}
}

// blank takes the line away between a label's figure and its unit.
func (d *sectionSheet) blank(l label, s style) {
	figure, _, _ := strings.Cut(l.text, " ")
	b := d.box(l.text, l.at, anchor{0.5, 0.5}, s)
	x, wide := b.x0+d.width(figure, s), d.width(" ", s)
	d.fill([]point{{x, b.y0}, {x + wide, b.y0}, {x + wide, b.y1}, {x, b.y1}}, color.White)
}

// keepOff returns points along the rods and the wall, to keep labels off them.
func (d *sectionSheet) keepOff() []point {
	var out []point
	for _, s := range d.wall {
		steps := math.Ceil(s.b.sub(s.a).norm() / 20)
		for k := 0.0; k <= steps; k++ {
			out = append(out, s.a.lerp(s.b, k/max(1, steps)))
		}
	}
	for i := range d.scene.Rods {
		r := &d.scene.Rods[i]
		for at := 0.0; at <= r.Length(); at += 0.01 {
			p, _ := r.At(at)
			out = append(out, d.plate.at(p))
		}
	}
	return out
}

// things draws the level and the rods.
func (d *sectionSheet) things() {
	d.level()
	for i := range d.scene.Rods {
		d.solidRod(&d.scene.Rods[i], d.plate, d.frame)
	}
}

// names writes the sides that the picture's edges lead to, and the openings in the plane.
func (d *sectionSheet) names() {
	s := style{size: body}
	middle := d.frame.centre()
	d.upright(d.scene.Sides.Name(d.scene.Cut.U.Scale(-1)), point{d.frame.x0 - nameRoom/2, middle.y}, s)
	d.upright(d.scene.Sides.Name(d.scene.Cut.U), point{d.frame.x1 + nameRoom/2, middle.y}, s)
	for _, o := range d.scene.Openings {
		off := math.Abs(o.Centre.Sub(d.scene.Cut.Origin).Dot(d.scene.Cut.toward()))
		if off > o.Diameter/2 {
			continue
		}
		axis := point{o.Axis.Unit().Dot(d.scene.Cut.U), -o.Axis.Unit().Dot(d.scene.Cut.V)}
		across := point{-axis.y, axis.x}.unit()
		if across.x < 0 {
			across = across.times(-1)
		}
		d.openingName(o, axis, across)
	}
}

// openingName writes an opening's name outside its rim, on the right, or on the left where only
// there no rod is in the way. axis and across are the opening's own on the picture.
func (d *sectionSheet) openingName(o Opening, axis, across point) {
	s := style{size: small, halo: true}
	wide, half := d.width(o.Name, s), o.Diameter/2*d.plate.scale
	places := [2]point{
		d.plate.at(o.Centre).add(across.times(half)).add(axis.times(34)).add(point{8, -small / 2}),
		d.plate.at(o.Centre).sub(across.times(half)).add(axis.times(34)).add(point{-8 - wide, -small / 2}),
	}
	at := places[0]
	for _, p := range places {
		if box := (rect{p.x, p.y, p.x + wide, p.y + small}); box.x0 > d.frame.x0 && box.x1 < d.frame.x1 && !d.rodIn(box) {
			at = p
			break
		}
	}
	at.x = min(at.x, d.frame.x1-wide)
	d.text(o.Name, at, anchor{}, s)
}

// rodIn reports whether a rod or its plastic lies over a place on the picture.
func (d *sectionSheet) rodIn(place rect) bool {
	for i := range d.scene.Rods {
		r := &d.scene.Rods[i]
		wide := place.grow(max(r.Radius, r.Sleeve) * d.plate.scale)
		for at := 0.0; at <= r.Length(); at += 0.002 {
			if p, _ := r.At(at); wide.contains(d.plate.at(p)) {
				return true
			}
		}
	}
	return false
}

// entries lists the key.
func (d *sectionSheet) entries() []swatch {
	out := []swatch{lengthSwatch(d.plate.scale, 190)}
	if d.step > 0 {
		out = append(out, lineSwatch(fmt.Sprintf("equal potential, every %s V", figure(d.step)), contourPen()))
	}
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
	if len(d.levelLines()) > 0 {
		out = append(out, lineSwatch("level of the liquid", pen{width: 5, colour: liquidColour}))
	}
	present := map[State]bool{}
	for _, s := range d.wall {
		present[d.scene.Surface.state(s.face)] = true
	}
	if present[Insulated] {
		out = append(out, filledSwatch("carries no current", colormap.Insulated.Colour()))
	}
	if present[NoData] && d.scene.Surface.Value != nil {
		out = append(out, filledSwatch("no data", colormap.NoData.Colour()))
	}
	return out
}
