package render

import (
	"fmt"
	"image/color"
	"math"
)

// figures writes the gaps as a table and returns the y below.
func (d *clearanceSheet) figures(at point, width float64) float64 {
	s := d.scene
	d.text("Bare metal to steel", at, anchor{}, panelTitle)
	y := at.y + 46
	row := func(words, value string, bold bool) {
		st := style{size: body, bold: bold}
		d.text(words, point{at.x, y}, anchor{}, style{size: body})
		d.text(value, point{at.x + width, y}, anchor{x: 1}, st)
		y += 38
	}
	row("under the liquid, as planned", millimetres(s.Gap.Distance), true)
	if s.Rim != (Gap{}) {
		row("all steel, rim included", millimetres(s.Rim.Distance), true)
	}
	if math.IsNaN(s.Worst) {
		row("worst of the tolerance", "not computed", false)
	} else {
		row("worst of the tolerance", millimetres(s.Worst), true)
	}
	if s.Limit > 0 {
		row("limit", millimetres(s.Limit), true)
		y = d.verdict(point{at.x, y + 6}, width)
	}
	y = d.paragraph(d.whereabouts(), point{at.x, y + 12}, width, style{size: body})
	return y
}

// verdict says in a box whether the limit is met.
func (d *clearanceSheet) verdict(at point, width float64) float64 {
	words := "Limit not met"
	if d.scene.Met {
		words = "Limit met"
	}
	if d.scene.Held != "" {
		words += ": " + d.scene.Held
	}
	thick := 2.0
	if !d.scene.Met {
		thick = 6
	}
	bottom := d.paragraph(words, point{at.x + 16, at.y + 12}, width-32, style{size: body, bold: true})
	d.rectangle(rect{at.x, at.y, at.x + width, bottom + 6}, pen{width: thick, colour: color.Black})
	return bottom + 12
}

// whereabouts says where the gap is, as seen from the filler.
func (d *clearanceSheet) whereabouts() string {
	s := d.scene
	words := "The gap's end on the steel"
	if len(s.Rods) > 1 && s.Gap.Rod != "" {
		words = fmt.Sprintf("Rod %q. %s", s.Gap.Rod, words)
	}
	if len(s.Openings) == 0 {
		return fmt.Sprintf("%s is at %v.", words, s.Gap.OnWall)
	}
	return fmt.Sprintf("%s, from the middle of the %s: %s.", words, s.Openings[0].Name, Whereabout(s.Sides, s.Openings[0].Centre, s.Gap.OnWall))
}
