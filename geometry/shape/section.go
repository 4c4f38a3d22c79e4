package shape

import (
	"fmt"
	"math"

	"evenwall/geometry/polygon"
)

// Notch is a tunnel cut into a cross-section from below: straight sides with a round
// top, a half circle where the height allows it and a half ellipse where not. The zero
// value is no tunnel.
type Notch struct {
	Width  float64 // m
	Height float64 // from the section's lowest line to the top of the tunnel, m
}

// Section is a cross-section of a Stack, as a tape and a contour gauge give it: a
// rectangle with rounded corners, symmetric about its own middle.
type Section struct {
	At        float64 // place along the stack's axis, m
	Width     float64 // m
	Height    float64 // m
	Bottom    float64 // height of its lowest line over the frame's zero, m
	Side      float64 // its middle to the left of the axis, m
	Roundness float64 // of the corners: 0 sharp, 1 a full ellipse
	Corner    float64 // corner radius instead of Roundness, m
	Notch     Notch
}

// outline is a section made definite; between two sections each of its numbers runs
// linearly along the axis. All in metres.
type outline struct {
	side, bottom  float64
	width, height float64
	rx, ry        float64 // half axes of the corner ellipses
	tunnel, crest float64 // width and height of the notch
	arch          float64 // height of the notch's round top
}

func (s Section) outline() outline {
	o := outline{side: s.Side, bottom: s.Bottom, width: s.Width, height: s.Height,
		rx: s.Corner, ry: s.Corner, tunnel: s.Notch.Width, crest: s.Notch.Height}
	if s.Roundness > 0 {
		o.rx, o.ry = s.Roundness*s.Width/2, s.Roundness*s.Height/2
	}
	o.arch = math.Min(o.tunnel/2, o.crest)
	return o
}

// lerp returns the outline at fraction t of the way from o to p.
func (o outline) lerp(p outline, t float64) outline {
	mix := func(a, b float64) float64 { return a + (b-a)*t }
	return outline{
		mix(o.side, p.side), mix(o.bottom, p.bottom), mix(o.width, p.width), mix(o.height, p.height),
		mix(o.rx, p.rx), mix(o.ry, p.ry), mix(o.tunnel, p.tunnel), mix(o.crest, p.crest), mix(o.arch, p.arch),
	}
}

// foot returns how far over the bottom the outline lies at the tunnel's sides: above 0
// where the tunnel is wider than the flat part of the floor.
func (o outline) foot() float64 {
	into := o.tunnel/2 - (o.width/2 - o.rx)
	if into <= 0 || o.rx == 0 {
		return 0
	}
	into = math.Min(into/o.rx, 1)
	return o.ry * (1 - math.Sqrt(1-into*into))
}

// contains reports whether the point (a to the left of the axis, b up) lies inside.
func (o outline) contains(a, b float64) bool {
	a, b = math.Abs(a-o.side), b-o.bottom
	if a > o.width/2 || b < 0 || b > o.height {
		return false
	}
	overX, overY := a-(o.width/2-o.rx), math.Abs(b-o.height/2)-(o.height/2-o.ry)
	if overX > 0 && overY > 0 && sq(overX/o.rx)+sq(overY/o.ry) > 1 {
		return false
	}
	if o.tunnel == 0 || a >= o.tunnel/2 {
		return true
	}
	over := b - (o.crest - o.arch)
	return over > 0 && sq(a/(o.tunnel/2))+sq(over/o.arch) >= 1
}

func sq(x float64) float64 { return x * x }

// area returns the area inside, m²; exact where the tunnel stands on flat floor.
func (o outline) area() float64 {
	whole := o.width*o.height - (4-math.Pi)*o.rx*o.ry
	return whole - o.tunnel*(o.crest-o.arch) - math.Pi/4*o.tunnel*o.arch
}

// detail is how many steps the round parts of an outline take; one detail serves all
// rings of a stack, so that their points match.
type detail struct{ corner, arch int }

func (d detail) finest(o outline, edge float64) detail {
	return detail{
		max(d.corner, arcSteps(math.Max(o.rx, o.ry), math.Pi/2, edge)),
		max(d.arch, arcSteps(math.Max(o.tunnel/2, o.arch), math.Pi/2, edge)),
	}
}

// points returns the outline anticlockwise (a to the left, b up, seen from the far end
// of the axis), starting at the lower right corner's end on the right side.
func (o outline) points(d detail) []polygon.Point {
	var out []polygon.Point
	x, y := o.width/2-o.rx, o.height/2-o.ry
	corners := [...]polygon.Point{{X: x, Y: y}, {X: -x, Y: y}}
	for q, c := range corners {
		for i := range d.corner + 1 {
			s, k := sincosQuarter(q, float64(i)/float64(d.corner))
			out = append(out, polygon.Point{X: c.X + o.rx*k, Y: c.Y + o.ry*s})
		}
	}
	out = append(out, o.floor(d)...)
	for i := range out {
		out[i].X += o.side
		out[i].Y += o.bottom + o.height/2
	}
	return out
}

// floor returns the lower half's points from the left side to the right: corner,
// tunnel, corner; relative to the middle of the outline.
func (o outline) floor(d detail) []polygon.Point {
	x, y := o.width/2-o.rx, o.height/2-o.ry
	// The corner arcs stop where the tunnel cuts them.
	sweep := math.Pi / 2
	if foot := o.foot(); foot > 0 {
		sweep = math.Acos(math.Min(1, (o.tunnel/2-x)/o.rx))
	}
	var out []polygon.Point
	for i := range d.corner + 1 {
		s, c := math.Sincos(sweep * float64(i) / float64(d.corner))
		out = append(out, polygon.Point{X: -x - o.rx*c, Y: -y - o.ry*s})
	}
	if sweep == math.Pi/2 {
		out[d.corner] = polygon.Point{X: -x, Y: -o.height / 2}
	}
	base := o.crest - o.arch - o.height/2
	left := []polygon.Point{{X: -o.tunnel / 2, Y: o.foot() - o.height/2}}
	for i := range d.arch + 1 {
		s, c := sincosQuarter(0, float64(i)/float64(d.arch))
		left = append(left, polygon.Point{X: -o.tunnel / 2 * c, Y: base + o.arch*s})
	}
	out = append(out, left...)
	return append(out, mirrored(out[:len(out)-1])...)
}

// mirrored returns the points reflected in X = 0, in reverse order.
func mirrored(points []polygon.Point) []polygon.Point {
	out := make([]polygon.Point, len(points))
	for i, p := range points {
		out[len(points)-1-i] = polygon.Point{X: -p.X, Y: p.Y}
	}
	return out
}

func (s Section) validate(name string) error {
	err := firstError(
		needPlace(name+": at", s.At), needSize(name+": width", s.Width), needSize(name+": height", s.Height),
		needPlace(name+": bottom", s.Bottom), needPlace(name+": side", s.Side),
		needNotNegative(name+": corner", s.Corner),
		needNotNegative(name+": notch width", s.Notch.Width), needNotNegative(name+": notch height", s.Notch.Height))
	if err != nil {
		return err
	}
	if !(s.Roundness >= 0 && s.Roundness <= 1) {
		return fmt.Errorf("%s: roundness is %g: give 0 (sharp corners) to 1 (a full ellipse)", name, s.Roundness)
	}
	if s.Roundness > 0 && s.Corner > 0 {
		return fmt.Errorf("%s: both roundness %g and corner %s are given: keep one", name, s.Roundness, mm(s.Corner))
	}
	if least := math.Min(s.Width, s.Height) / 2; s.Corner > least*(1+1e-12) {
		return fmt.Errorf("%s: corner radius is %s: at most half the shorter side fits, %s", name, mm(s.Corner), mm(least))
	}
	return s.validateNotch(name)
}

func (s Section) validateNotch(name string) error {
	n, o := s.Notch, s.outline()
	if (n.Width == 0) != (n.Height == 0) {
		return fmt.Errorf("%s: notch is %s wide and %s high: give both, or neither", name, mm(n.Width), mm(n.Height))
	}
	if n.Width >= s.Width || n.Height >= s.Height {
		return fmt.Errorf("%s: notch %s wide and %s high does not fit into %s by %s: make it smaller",
			name, mm(n.Width), mm(n.Height), mm(s.Width), mm(s.Height))
	}
	if n.Width > 0 && o.crest-o.arch < o.foot() {
		return fmt.Errorf("%s: notch %s high does not reach over the rounded floor at its sides: raise it by %s or lower the roundness",
			name, mm(n.Height), mm(o.foot()-o.crest+o.arch))
	}
	return nil
}
