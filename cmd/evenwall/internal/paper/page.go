package paper

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Sizes of type, points, and what they take on the page.
const (
	leastSize = 11.0 // of the body, and of everything
	mostSize  = 13.0 // of the body, where there is room
	headSize  = 14.0
	bigSize   = 22.0
	point     = 25.4 / 72 // mm

	margin  = 13.0 // mm
	boxSize = 4.0  // mm, of a box to tick
)

// page is the sheet of paper in the making.
type page struct {
	pdf           *fpdf.Fpdf
	width, height float64
	x, w          float64 // of the column
	y             float64 // of the next line's top
	body          float64 // size of type, points
	title         string
	pages         int // in all; 0 while it is not known
	written       []writing
}

// writing is a text on the paper, with the box that it fills, mm.
type writing struct {
	text       string
	page       int
	x, y, w, h float64
	size       float64 // points
}

func newPage(size Size, title string) *page {
	p := &page{title: title, body: leastSize}
	p.width, p.height = size.millimetres()
	p.pdf = fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: p.width, Ht: p.height}})
	p.pdf.AddUTF8FontFromBytes("go", "", goregular.TTF)
	p.pdf.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	p.pdf.SetMargins(0, 0, 0)
	p.pdf.SetCellMargin(0)
	p.pdf.SetAutoPageBreak(false, 0)
	p.pdf.SetCatalogSort(true)
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // the same sheet gives the same bytes
	p.pdf.SetCreationDate(fixed)
	p.pdf.SetModificationDate(fixed)
	p.pdf.SetTitle(title, true)
	p.pdf.SetLineJoinStyle("round")
	return p
}

// begin starts a sheet of paper, with title and page at its foot.
func (p *page) begin() {
	p.pdf.AddPage()
	p.x, p.w, p.y = margin, p.width-2*margin, margin
	p.font("", p.body)
	y := p.height - margin - 2
	p.line(margin, y-1, p.width-margin, y-1, 0.2)
	text := fmt.Sprintf("page %d of %d", p.pdf.PageCount(), p.pages)
	wide := p.wide(text)
	p.at(p.width-margin-wide, y, text)
	p.at(margin, y, p.wrap(p.title, p.w-wide-5)[0])
}

// step is the distance from line to line of the body, mm.
func (p *page) step() float64 { return 1.224 * p.body * point }

func (p *page) bottom() float64 { return p.height - margin - 5 }

// need starts a further page when h mm are not left on this one.
func (p *page) need(h float64) {
	if p.y+h > p.bottom() {
		p.begin()
	}
}

func (p *page) font(style string, size float64) { p.pdf.SetFont("go", style, size) }

// grey sets the ink: 0 is black.
func (p *page) grey(level int) {
	p.pdf.SetDrawColor(level, level, level)
	p.pdf.SetTextColor(level, level, level)
}

// at writes a line with its top left corner at x, y. Every text goes through here.
func (p *page) at(x, y float64, text string) {
	text = printable(text)
	points, size := p.pdf.GetFontSize()
	p.written = append(p.written, writing{text, p.pdf.PageNo(), x, y, p.wide(text), size, points})
	p.pdf.Text(x, y+0.8*size, text)
}

func (p *page) line(x0, y0, x1, y1, width float64) {
	p.pdf.SetLineWidth(width)
	p.pdf.Line(x0, y0, x1, y1)
}

func (p *page) rect(x, y, w, h, width float64) {
	p.pdf.SetLineWidth(width)
	p.pdf.Rect(x, y, w, h, "D")
}

// wide returns the width of a text in the present type, mm.
func (p *page) wide(text string) float64 { return p.pdf.GetStringWidth(printable(text)) }

// printable puts a question mark where the library has no room for a letter: beyond the
// first 65536, and for what is no letter at all.
func printable(text string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c > 0xFFFF || c == utf8.RuneError {
			return '?'
		}
		return c
	}, text)
}

// words parts a text where a line may end, never between a number and its unit; a word wider
// than w is cut.
func (p *page) words(text string, w float64) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		if n := len(out); n > 0 && isUnit(word) && isNumber(out[n-1]) {
			out[n-1] += " " + word
			continue
		}
		for p.wide(word) > w && utf8.RuneCountInString(word) > 1 {
			cut := len(word)
			for cut > 0 && p.wide(word[:cut]) > w {
				_, size := utf8.DecodeLastRuneInString(word[:cut])
				cut -= size
			}
			if cut == 0 {
				break
			}
			out, word = append(out, word[:cut]), word[cut:]
		}
		out = append(out, word)
	}
	return out
}

// isUnit reports whether a word is a unit, with or without a stop after it.
func isUnit(word string) bool {
	switch strings.TrimRight(word, ".,;:)") {
	case "A", "V", "W", "h", "mm", "in", "m", "ft", "g", "oz", "kg", "lb", "L", "gal", "kJ", "%", "°C", "°F", "ohm", "min", "mS/cm", "m³/h", "cfm", "L/h", "gal/h", "K/h", "°F/h", "o'clock":
		return true
	}
	return false
}

// isNumber reports whether a word ends in a digit, or in a band in brackets.
func isNumber(word string) bool {
	last := strings.TrimRight(word, ")")
	return last != "" && last[len(last)-1] >= '0' && last[len(last)-1] <= '9'
}

// wrap breaks text into lines of at most w mm in the present type.
func (p *page) wrap(text string, w float64) []string {
	var lines []string
	line := ""
	for _, word := range p.words(text, w) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if line != "" && p.wide(joined) > w {
			lines = append(lines, line)
			joined = word
		}
		line = joined
	}
	return append(lines, line)
}

// text writes a paragraph in the column, indented by indent.
func (p *page) text(indent float64, text string) {
	for _, line := range p.wrap(text, p.w-indent) {
		p.need(p.step())
		p.at(p.x+indent, p.y, line)
		p.y += p.step()
	}
}

// heading writes a heading with a rule under it.
func (p *page) heading(text string) {
	p.need(3 * p.step())
	p.y += 1.2
	p.font("B", headSize)
	p.at(p.x, p.y, text)
	p.y += headSize*point + 1.1
	p.line(p.x, p.y, p.x+p.w, p.y, 0.4)
	p.y += 1.1
	p.font("", p.body)
}

// tick writes a paragraph with a box before it; lead is in bold.
func (p *page) tick(lead, text string) {
	p.entry(lead, text, func(x, y float64) { p.rect(x, y+0.2, boxSize, boxSize, 0.35) })
}

// bullet writes a paragraph with a dash before it; lead is in bold.
func (p *page) bullet(lead, text string) {
	p.entry(lead, text, func(x, y float64) { p.line(x+0.8, y+2.2, x+3.2, y+2.2, 0.5) })
}

func (p *page) entry(lead, text string, mark func(x, y float64)) {
	const indent = boxSize + 2.0
	p.font("B", p.body)
	bold := 0.0
	if lead != "" {
		lead += " "
		bold = p.wide(lead)
	}
	p.font("", p.body)
	lines := p.wrapAfter(text, p.w-indent, bold)
	p.need(float64(len(lines))*p.step() + 0.6)
	mark(p.x, p.y)
	if lead != "" {
		p.font("B", p.body)
		p.at(p.x+indent, p.y, strings.TrimSpace(lead))
		p.font("", p.body)
	}
	for i, line := range lines {
		x := p.x + indent
		if i == 0 {
			x += bold
		}
		if line != "" {
			p.at(x, p.y, line)
		}
		p.y += p.step()
	}
	p.y += 0.6
}

// wrapAfter is wrap with the first line shorter by taken.
func (p *page) wrapAfter(text string, w, taken float64) []string {
	words := p.words(text, w)
	first := ""
	for len(words) > 0 {
		joined := strings.TrimSpace(first + " " + words[0])
		if p.wide(joined) > w-taken {
			break
		}
		first, words = joined, words[1:]
	}
	if len(words) == 0 {
		return []string{first}
	}
	return append([]string{first}, p.wrap(strings.Join(words, " "), w)...)
}

// blank writes a label with a line to write on, and returns where it ends.
func (p *page) blank(x, y, w float64, label string) float64 {
	p.at(x, y, label)
	start := x + p.wide(label) + 1.2
	p.line(start, y+p.step()-0.6, x+w, y+p.step()-0.6, 0.25)
	return x + w
}
