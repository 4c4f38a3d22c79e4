package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

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
	y = d.key(d.entries(), y) + 10
	d.place(y)
	d.liquid()
	d.band()
	d.steel()
	d.things()
	d.names()
	d.labels()
	y = d.smallPrint(s.Notes, d.frame.y1+34)
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
		d.text(l.text, l.at, anchor{0.5, 0.5}, s)
	}
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

// band draws the wall's current density outside the wall; on a sheet, which is wall on
// both sides, within the liquid that it faces. Where the wall turns away from the liquid,
// the wedge between two stretches is filled.
func (d *sectionSheet) band() {
	last := map[point]point{} // at a corner: the edge of the stretch drawn before
	for _, s := range d.wall {
		colour, drawn := d.bandColour(s.face)
		if !drawn {
			continue
		}
		out := s.outward.times(bandWidth)
		if d.scene.Surface.sheet(s.face) {
			out = s.outward.times(-0.7 * bandWidth)
		}
		over := s.b.sub(s.a).unit().times(0.7) // overlaps the next one, against hairlines between
		a, b := s.a.sub(over), s.b.add(over)
		d.fill([]point{a, b, b.add(out), a.add(out)}, colour)
		for _, corner := range []point{s.a, s.b} {
			if before, known := last[corner]; known {
				d.wedge(corner, before, out, colour)
			}
			last[corner] = out
		}
	}
}

// wedge fills the turn between two edges of the band around a corner.
func (d *sectionSheet) wedge(corner, from, to point, colour color.Color) {
	const flat, back = 0.999, -0.5 // cosines between the edges: no wedge, and a sheet's other side
	radius := from.norm()
	if c := (from.x*to.x + from.y*to.y) / (radius * to.norm()); c > flat || c < back {
		return
	}
	arc := []point{corner}
	for k := range 7 {
		arc = append(arc, corner.add(from.lerp(to, float64(k)/6).unit().times(radius)))
	}
	d.fill(arc, colour)
}

func (d *sectionSheet) bandColour(face int) (c color.RGBA, drawn bool) {
	switch d.scene.Surface.state(face) {
	case Wetted:
		return d.bands.at(math.Log10(max(d.scene.Surface.value(face), 1e-300))), true
	case Insulated:
		return colormap.Insulated.Colour(), true
	case NoData:
		return colormap.NoData.Colour(), d.scene.Surface.Value != nil
	default:
		return c, false
	}
}

// steel draws the wall itself; openings stay open.
func (d *sectionSheet) steel() {
	d.walls(d.wall, func(face int) bool { return d.scene.Surface.state(face) == Open })
}

// walls draws stretches as a strong line, but those that are left out.
func (c *canvas) walls(wall []stretch, out func(face int) bool) {
	lines := newJoints[point]()
	for _, s := range wall {
		if !out(s.face) && s.a != s.b {
			lines.join(s.a, s.b)
		}
	}
	for _, way := range lines.ways() {
		c.line(way, pen{width: 4, colour: color.Black})
	}
}

// things draws the level and the rods.
func (d *sectionSheet) things() {
	d.level()
	for i := range d.scene.Rods {
		d.solidRod(&d.scene.Rods[i], d.plate, d.frame)
	}
}

// level draws the liquid's surface between the walls.
func (d *sectionSheet) level() {
	liquid := d.scene.Liquid
	n := liquid.Normal.Unit()
	slopeV := n.Dot(d.scene.Cut.V)
	if math.Abs(slopeV) < 1e-6 {
		return
	}
	height := func(x float64) point {
		// The plane's v at this u: linear along the picture.
		p := d.plate.back(point{x, d.frame.y0}, 0)
		return d.plate.at(p.AddScaled(d.scene.Cut.V, -liquid.Height(p)/slopeV))
	}
	a, b := height(d.frame.x0), height(d.frame.x1)
	cuts := []float64{0}
	for _, s := range d.wall {
		if t, ok := meet(a, b, s.a, s.b); ok {
			cuts = append(cuts, t)
		}
	}
	slices.Sort(cuts)
	longest := [2]point{}
	for k := 1; k < len(cuts); k++ {
		p, q := a.lerp(b, cuts[k-1]), a.lerp(b, cuts[k])
		if !d.mask.has(p.lerp(q, 0.5)) {
			continue
		}
		d.line([]point{p, q}, pen{width: 4, colour: liquidColour})
		if q.sub(p).norm() > longest[1].sub(longest[0]).norm() {
			longest = [2]point{p, q}
		}
	}
	if mark := longest[0].lerp(longest[1], 0.85); longest[0] != longest[1] {
		d.fill([]point{mark.add(point{0, -3}), mark.add(point{-11, -21}), mark.add(point{11, -21})}, liquidColour)
	}
}

// meet returns how far along a-b the stretch c-d crosses it.
func meet(a, b, c, d point) (t float64, ok bool) {
	ab, cd, ac := b.sub(a), d.sub(c), c.sub(a)
	det := ab.x*cd.y - ab.y*cd.x
	if det == 0 {
		return 0, false
	}
	t = (ac.x*cd.y - ac.y*cd.x) / det
	u := (ac.x*ab.y - ac.y*ab.x) / det
	return t, u >= 0 && u < 1 && t >= 0 && t <= 1
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
		rim := d.plate.at(o.Centre).add(across.times(o.Diameter / 2 * d.plate.scale))
		if across.x < 0 {
			rim = d.plate.at(o.Centre).sub(across.times(o.Diameter / 2 * d.plate.scale))
		}
		at := rim.add(axis.times(34)).add(point{8, -small / 2})
		at.x = min(at.x, d.frame.x1-d.width(o.Name, style{size: small}))
		d.text(o.Name, at, anchor{}, style{size: small, halo: true})
	}
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
	if d.scene.liquidShows() {
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
