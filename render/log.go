package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strconv"
)

// LogScene is what was read at the bench over time.
type LogScene struct {
	Title  string
	Curves []LogCurve
	Marks  []LogMark
	Notes  []string // what the numbers look like, in the order of their marks
}

// LogCurve is one kind of reading.
type LogCurve struct {
	Name   string // with its unit
	Points []LogPoint
	Bands  []LogBand
	Zero   bool // the strip begins at zero
}

// LogPoint is one reading. Broken says that the current was off since the one before.
type LogPoint struct {
	Hours, Value float64
	Broken       bool
}

// LogBand is what was expected over a stretch of time.
type LogBand struct {
	From, To  float64 // h
	Low, High float64
	Name      string // of the station; "" for the only one
}

// LogMark is a place in time with the number of its note.
type LogMark struct {
	Hours  float64
	Number int
}

// Log draws readings over time, one strip a curve, what was expected in grey behind them.
// Curves without a point are left out; it fails without any.
func Log(s LogScene, set Settings) (*image.RGBA, error) {
	c, err := drawLog(s, set)
	if err != nil {
		return nil, err
	}
	return c.image, nil
}

func drawLog(s LogScene, set Settings) (*canvas, error) {
	l, err := newLettering(set.width())
	if err != nil {
		return nil, err
	}
	d := &logSheet{canvas: newCanvas(l, 4000), scene: &s}
	for _, c := range s.Curves {
		if len(c.Points) > 0 {
			d.curves = append(d.curves, c)
		}
	}
	if len(d.curves) == 0 {
		return nil, fmt.Errorf("no reading holds volts, amps or a temperature: nothing to draw")
	}
	y := d.header(s.Title, "Readings over the hours. Grey: what was expected. Numbers: what they look like, below.", nil)
	d.span()
	for i, c := range d.curves {
		y = d.strip(c, y, i == len(d.curves)-1)
	}
	for i, note := range s.Notes {
		y = d.paragraph(fmt.Sprintf("%d %s", i+1, note), point{margin, y}, sheetWidth-2*margin, style{size: body}) + 4
	}
	d.crop(y + margin/2)
	return d.canvas, nil
}

// logSheet is the picture of a log in the making.
type logSheet struct {
	*canvas
	scene    *LogScene
	curves   []LogCurve
	from, to float64 // h
}

// span finds the stretch of time to draw.
func (d *logSheet) span() {
	d.from, d.to = math.Inf(1), math.Inf(-1)
	for _, c := range d.curves {
		for _, p := range c.Points {
			d.from, d.to = min(d.from, p.Hours), max(d.to, p.Hours)
		}
	}
	if d.to-d.from < 0.1 {
		d.from, d.to = d.from-0.1, d.to+0.1
	}
}

// axis maps hours and a curve's values to the picture.
type axis struct {
	frame     rect
	from, to  float64 // h
	low, high float64
}

func (a *axis) at(hours, value float64) point {
	return point{
		a.frame.x0 + (hours-a.from)/(a.to-a.from)*a.frame.width(),
		a.frame.y1 - (value-a.low)/(a.high-a.low)*a.frame.height(),
	}
}

// strip draws one curve below y and returns the y under it.
func (d *logSheet) strip(c LogCurve, y float64, last bool) float64 {
	const tall, left = 250.0, 90.0 // layout units
	d.text(c.Name, point{margin, y}, anchor{}, style{size: heading, bold: true})
	y += heading * 1.5
	a := &axis{frame: rect{margin + left, y, sheetWidth - margin, y + tall}, from: d.from, to: d.to}
	a.low, a.high = ends(&c)
	d.bands(a, c.Bands)
	d.values(a)
	d.points(a, c.Points)
	for _, m := range d.scene.Marks {
		d.mark(a, m)
	}
	d.rectangle(a.frame, pen{width: 2, colour: color.Black})
	y = a.frame.y1 + 10
	return d.hours(a, y, last)
}

// ends returns the range of values to draw, with some air. It begins at zero where that is asked
// for or not far off.
func ends(c *LogCurve) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range c.Points {
		low, high = min(low, p.Value), max(high, p.Value)
	}
	for _, b := range c.Bands {
		low, high = min(low, b.Low), max(high, b.High)
	}
	if low > 0 && (c.Zero || low < 0.5*high) {
		low = 0
	}
	if high < 0 {
		high = 0
	}
	air := 0.15 * max(high-low, 0.01*math.Abs(high), 0.01)
	if low != 0 {
		low -= air
	}
	return low, high + air
}

// bands draws what was expected.
func (d *logSheet) bands(a *axis, bands []LogBand) {
	for _, b := range bands {
		p, q := a.at(max(b.From, a.from), b.Low), a.at(min(b.To, a.to), b.High)
		d.block(rect{p.x, q.y, q.x, p.y}, color.Gray{215})
		if b.Name != "" {
			d.text(b.Name, point{p.x + 6, a.frame.y1 - 4}, anchor{0, 1}, style{size: small, halo: true})
		}
	}
}

// values draws level lines with their numbers.
func (d *logSheet) values(a *axis) {
	step := roundUp((a.high - a.low) / 5)
	for n := math.Ceil(a.low / step); n*step <= a.high; n++ {
		p, q := a.at(a.from, n*step), a.at(a.to, n*step)
		d.line([]point{p, q}, pen{width: 1, colour: color.Gray{150}})
		d.text(ticked(n*step, step), point{p.x - 10, p.y}, anchor{1, 0.5}, style{size: small})
	}
}

// ticked writes a value with the decimals that its step has.
func ticked(value, step float64) string {
	return strconv.FormatFloat(value, 'f', max(0, -int(math.Floor(math.Log10(step)+1e-9))), 64)
}

func (d *logSheet) points(a *axis, points []LogPoint) {
	var run []point
	flush := func() {
		d.line(run, pen{width: 3.5, colour: color.Black})
		run = nil
	}
	for _, p := range points {
		if p.Broken {
			flush()
		}
		run = append(run, a.at(p.Hours, p.Value))
	}
	flush()
	for _, p := range points {
		d.disc(a.at(p.Hours, p.Value), 5, color.White, pen{width: 2.5, colour: color.Black})
	}
}

// mark draws an upright line with its number at the top.
func (d *logSheet) mark(a *axis, m LogMark) {
	p, q := a.at(m.Hours, a.low), a.at(m.Hours, a.high)
	d.line([]point{p, q}, pen{width: 2, colour: color.Black, dash: 8})
	d.text(fmt.Sprint(m.Number), point{min(q.x+6, a.frame.x1-16), q.y + 4 + 24*float64((m.Number-1)%3)}, anchor{}, style{size: small, bold: true, halo: true})
}

// hours draws the ticks of time; their numbers only under the last strip.
func (d *logSheet) hours(a *axis, y float64, last bool) float64 {
	step := math.Max(roundUp((a.to-a.from)/8), 0.1)
	for n := math.Ceil(a.from/step - 1e-9); n*step <= a.to+1e-9; n++ {
		p := a.at(n*step, a.low)
		d.line([]point{p, {p.x, p.y + 8}}, pen{width: 2, colour: color.Black})
		if last {
			d.text(ticked(n*step, step), point{p.x, y}, anchor{0.5, 0}, style{size: small})
		}
	}
	if !last {
		return y + 12
	}
	y += small * 1.3
	d.text("h since midnight before the first reading", point{a.frame.centre().x, y}, anchor{0.5, 0}, style{size: small})
	return y + small*1.8
}
