package render

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"evenwall/render/colormap"
)

// Difference draws how many times the current of the first layout the second one brings each
// patch of wall: the scene's figures are that ratio, its patches, hatched and not listed, are
// where neither gets what counts. Spots are numbered on the wall and listed.
func Difference(s Scene, names [2]string, spots []Spot, set Settings) (*image.RGBA, error) {
	c, err := drawDifference(s, names, spots, set)
	if err != nil {
		return nil, err
	}
	return c.image, nil
}

// ratioBands are the steps of the ratio's scale; the middle one is alike.
func ratioBands() bands {
	b := bands{edges: []float64{1 / 10.0, 1 / 5.0, 1 / 3.0, 1 / 2.0, 1 / 1.5, 1 / 1.2, 1.2, 1.5, 2, 3, 5, 10}}
	for _, e := range b.edges {
		b.logs = append(b.logs, math.Log10(e))
	}
	steps := len(b.edges) - 1
	for i := range steps {
		b.colour = append(b.colour, colormap.Ratio(2*float64(i)/float64(steps-1)-1))
	}
	b.under, b.over = colormap.RatioEnds()
	return b
}

func drawDifference(s Scene, names [2]string, spots []Spot, set Settings) (*canvas, error) {
	w, a, err := newWallSheet(&s, set)
	if err != nil {
		return nil, err
	}
	w.paint = newWallPaint(&s, ratioBands(), w.unit)
	subject := fmt.Sprintf("Where two layouts differ, the wall seen from inside. Dark blue: more by %s; bright yellow: more by %s; grey: alike.", names[0], names[1])
	y := w.header(s.Title, subject, s.Notes.Warnings)
	here := ""
	if low, high, ok := s.Surface.wettedRange(); ok {
		here = fmt.Sprintf("here %s to %s", figure(low), figure(high))
	}
	y = w.bar(w.paint.bands, fmt.Sprintf("Current by %s over that by %s", names[1], names[0]), here, 0, y)
	y = w.key(w.differenceEntries(), y) + 6
	y = w.panels(y) + 6
	for i, spot := range spots {
		w.pin(i+1, spot.At)
	}
	y = w.spotList(spots, y)
	y = w.smallPrint(s.Notes, y, a.remark())
	w.crop(y + margin/2)
	return w.canvas, nil
}

// differenceEntries lists the key: what the colours do not say.
func (w *wallSheet) differenceEntries() []swatch {
	entries := []swatch{lengthSwatch(w.scale, 190)}
	if len(w.scene.Patches) > 0 {
		words := fmt.Sprintf("both below %s A/m²: hardly changes", figure(w.scene.Least))
		entries = append(entries, w.paint.sampled(words, func(x, y int) color.RGBA { return w.paint.hatch(colormap.Ratio(0), x, y) }))
	}
	if w.scene.liquidShows() {
		entries = append(entries, lineSwatch("level of the liquid", pen{width: 5, colour: liquidColour}))
	}
	return append(entries, w.paint.marks()...)
}
