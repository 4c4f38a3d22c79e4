package render

import (
	"errors"
	"image"
	"math"
)

// Contender is a layout in a picture that compares several.
type Contender struct {
	Name  string
	Words string // figures below the name
	Scene Scene  // its title, scale and notes are not drawn; patches are hatched and not listed
}

// Compare draws the walls of several layouts side by side, as Wall does one, all on one scale
// of colours and of lengths.
func Compare(title string, all []Contender, notes Notes, set Settings) (*image.RGBA, error) {
	c, err := drawCompared(title, all, notes, set)
	if err != nil {
		return nil, err
	}
	return c.image, nil
}

// Places on a sheet that compares, layout units.
const (
	columnGap = 28.0
	columns   = 2
)

const columnWidth = (fullWidth - (columns-1)*columnGap) / columns

func drawCompared(title string, all []Contender, notes Notes, set Settings) (*canvas, error) {
	if len(all) == 0 {
		return nil, errors.New("no layout to draw: give at least one")
	}
	l, err := newLettering(set.width())
	if err != nil {
		return nil, err
	}
	var surfaces []Surface
	least := 0.0
	for i := range all {
		if err := all[i].Scene.check(); err != nil {
			return nil, err
		}
		surfaces = append(surfaces, all[i].Scene.Surface)
		least = all[i].Scene.Least
	}
	scale := ScaleFor(surfaces...)
	sheets, bottom, err := compareSheets(all, l)
	if err != nil {
		return nil, err
	}
	c := newCanvas(l, 2200+float64(len(all))*bottom)
	for i, w := range sheets {
		w.canvas, w.paint = c, newWallPaint(&all[i].Scene, scale.bands(), l.unit)
	}
	y := c.header(title, "Layouts side by side, the tank's wall seen from inside. Dark: little current; bright: much.", notes.Warnings)
	low, high, ok := rangeOf(surfaces)
	y = c.bar(scale.bands(), "Current density of the wall, A/m², one scale for all", ranged(low, high, ok, "A/m²"), least, y)
	y = c.key(comparedEntries(sheets), y) + 10
	y = comparedPanels(c, sheets, all, y)
	y = c.smallPrint(notes, y, sheets[0].remarks...)
	c.crop(y + margin/2)
	return c, nil
}

// compareSheets sets out each layout's panels in a column's width, all at one scale of
// lengths, and returns the height of the tallest.
func compareSheets(all []Contender, l *lettering) (sheets []*wallSheet, bottom float64, err error) {
	const tallest = 1500 // layout units for the panels of one
	titled := func(t string) float64 { return l.width(t, panelTitle) }
	scale := math.Inf(1)
	for i := range all {
		a := arrange(&all[i].Scene.Surface, all[i].Scene.Sides)
		fits, _, _ := pack(a.panels, titled, columnWidth, tallest)
		scale = min(scale, fits)
		sheets = append(sheets, &wallSheet{scene: &all[i].Scene, plans: a.panels, remarks: []string{a.remark()}})
	}
	if scale == 0 {
		return nil, 0, errNothing
	}
	for _, w := range sheets {
		var below float64
		w.scale = scale
		w.cells, below = shelves(w.plans, titled, scale, columnWidth)
		bottom = max(bottom, below)
	}
	return sheets, bottom, nil
}

// rangeOf returns the least and the greatest figure of wetted wall on several surfaces.
func rangeOf(surfaces []Surface) (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range surfaces {
		if least, most, has := surfaces[i].wettedRange(); has {
			low, high, ok = min(low, least), max(high, most), true
		}
	}
	return low, high, ok
}

// comparedEntries lists the key of all the layouts, each entry once.
func comparedEntries(sheets []*wallSheet) []swatch {
	var out []swatch
	seen := map[string]bool{}
	for _, w := range sheets {
		for _, e := range w.entries() {
			if !seen[e.words] {
				seen[e.words] = true
				out = append(out, e)
			}
		}
	}
	return out
}

// comparedPanels draws the layouts in rows below y and returns the y below them.
func comparedPanels(c *canvas, sheets []*wallSheet, all []Contender, y float64) float64 {
	for from := 0; from < len(sheets); from += columns {
		row := sheets[from:min(from+columns, len(sheets))]
		top := y
		for k := range row {
			x := margin + float64(k)*(columnWidth+columnGap)
			at := c.paragraph(all[from+k].Name, point{x, y}, columnWidth, style{size: large, bold: true})
			top = max(top, c.paragraph(all[from+k].Words, point{x, at}, columnWidth, style{size: body}))
		}
		bottom := top
		for k, w := range row {
			for i := range w.cells {
				w.cells[i] = w.cells[i].moved(float64(k)*(columnWidth+columnGap), top+10)
				w.panel(i)
				bottom = max(bottom, w.cells[i].outer.y1)
			}
		}
		y = bottom + 2*cellGap
	}
	return y
}
