package render

import (
	"fmt"
	"image/color"
	"strings"

	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Text sizes in layout units: no text is smaller than small.
const (
	small   = 21.0
	body    = 24.0
	heading = 27.0
	large   = 36.0
)

// style is how a text looks.
type style struct {
	size   float64 // layout units
	bold   bool
	colour color.Color // nil: black
	halo   bool        // white around the letters, for text over a picture
}

// lettering holds the embedded fonts and measures text before there is a canvas.
type lettering struct {
	unit  float64 // pixels per layout unit
	fonts map[bool]*truetype.Font
	faces map[style]font.Face
}

func newLettering(width int) (*lettering, error) {
	l := &lettering{unit: float64(width) / sheetWidth, fonts: map[bool]*truetype.Font{}, faces: map[style]font.Face{}}
	for bold, data := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		f, err := truetype.Parse(data)
		if err != nil {
			return nil, fmt.Errorf("embedded font: %w", err)
		}
		l.fonts[bold] = f
	}
	return l, nil
}

// face returns the font at the style's size.
func (l *lettering) face(s style) font.Face {
	key := style{size: s.size, bold: s.bold}
	if f := l.faces[key]; f != nil {
		return f
	}
	f := truetype.NewFace(l.fonts[s.bold], &truetype.Options{Size: s.size * l.unit, DPI: 72, Hinting: font.HintingNone})
	l.faces[key] = f
	return f
}

// width returns how wide the text is, layout units.
func (l *lettering) width(text string, s style) float64 {
	return float64(font.MeasureString(l.face(s), text)) / 64 / l.unit
}

// wrap breaks the text into lines no wider than width, but never between a number and its
// unit.
func (l *lettering) wrap(text string, s style, width float64) []string {
	var lines []string
	line := ""
	for _, word := range unbroken(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && l.width(longer, s) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// unbroken splits a text where a line may end.
func unbroken(text string) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		switch strings.TrimRight(word, ".,;:") {
		case "mm", "cm²", "A/m²", "V", "%":
			if len(out) > 0 {
				out[len(out)-1] += " " + word
				continue
			}
		}
		out = append(out, word)
	}
	return out
}

// lineHeight is the distance between two lines of a text, layout units.
func (s style) lineHeight() float64 { return s.size * 1.3 }
