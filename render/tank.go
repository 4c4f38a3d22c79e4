package render

import (
	"image"
	"math"

	"evenwall/geometry"
)

// Spot is a place on the wall to be found in the picture.
type Spot struct {
	At    geometry.Vec // m
	Words string
}

// Tank draws what the wall of a tank is, wetted, dry, under trapped air, open, seen from
// inside as Wall does, without any figures of current. Its spots are numbered on the wall and
// listed in order.
func Tank(s Scene, spots []Spot, set Settings) (*image.RGBA, error) {
	c, err := drawTank(s, spots, set)
	if err != nil {
		return nil, err
	}
	return c.image, nil
}

func drawTank(s Scene, spots []Spot, set Settings) (*canvas, error) {
	s.Surface.Value, s.Patches, s.Scale = nil, nil, Scale{Low: 1, High: 10}
	w, a, err := newWallSheet(&s, set)
	if err != nil {
		return nil, err
	}
	w.paint = newWallPaint(&s, s.Scale.bands(), w.unit)
	w.paint.plain = true
	y := w.header(s.Title, "The tank seen from inside, as it is filled.", s.Notes.Warnings)
	y = w.key(w.entries(), y) + 6
	y = w.panels(y) + 6
	for i, spot := range spots {
		w.pin(i+1, spot.At)
	}
	y = w.spotList(spots, y)
	y = w.smallPrint(s.Notes, y, a.remark())
	w.crop(y + margin/2)
	return w.canvas, nil
}

// newWallSheet lays a scene's panels out on a sheet that has no paint yet.
func newWallSheet(s *Scene, set Settings) (*wallSheet, *arrangement, error) {
	if err := s.check(); err != nil {
		return nil, nil, err
	}
	l, err := newLettering(set.width())
	if err != nil {
		return nil, nil, err
	}
	a := arrange(&s.Surface, s.Sides)
	const tallest = 1250 // layout units for all panels
	scale, cells, bottom := pack(a.panels, func(t string) float64 { return l.width(t, panelTitle) }, fullWidth, tallest)
	if scale == 0 {
		return nil, nil, errNothing
	}
	w := &wallSheet{scene: s, plans: a.panels, sides: a.sides, cells: cells, scale: scale}
	w.canvas = newCanvas(l, 2200+bottom)
	return w, &a, nil
}

// pin draws a number on the panel that shows the wall nearest to a place best: where the
// wall stands in front of a side, on the panel of its own.
func (w *wallSheet) pin(n int, at geometry.Vec) {
	m := &w.scene.Surface.Mesh
	best, nearest, clearest := -1, math.Inf(1), 0.0
	for i := range w.plans {
		for _, f := range w.plans[i].faces {
			t := m.Triangle(int(f))
			d, clear := t.Closest(at).Dist(at), t.Normal().Dot(w.plans[i].view.toward)
			if i >= w.sides {
				clear++
			}
			if d < nearest-1e-6 || (d < nearest+1e-6 && clear > clearest+1e-6) {
				best, nearest, clearest = i, d, clear
			}
		}
	}
	if best < 0 {
		return
	}
	view, inner := w.plans[best].view, w.cells[best].inner
	l := &plate{right: view.right, up: view.up, toward: view.toward, origin: w.plans[best].span.corner(view), x: inner.x0, y: inner.y0, scale: w.scale}
	w.number(n, l.at(at))
}

// spotList writes the numbered places and returns the y below.
func (w *wallSheet) spotList(spots []Spot, y float64) float64 {
	for i, s := range spots {
		w.number(i+1, point{margin + numberRadius, y + body/2})
		y = w.paragraph(s.Words, point{margin + 2*numberRadius + 14, y}, sheetWidth-2*margin-2*numberRadius-14, style{size: body}) + 12
	}
	return y
}
