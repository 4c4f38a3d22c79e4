package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
	"evenwall/geometry/polygon"
)

// Plate is a flat rectangular sheet without thickness, such as a baffle: an open
// surface, wall on both faces. Across and Up are the sheet's own directions: across is
// level and to the left of someone who looks along Normal, and up is the steepest way
// up in the sheet. In a level sheet (Normal along z) across is x and up is y.
type Plate struct {
	Centre geometry.Vec // middle of the rectangle, m
	Normal geometry.Vec // square to the sheet, of any length
	Width  float64      // across, m
	Height float64      // up, m
	Holes  []Hole
}

// Hole is an opening in a Plate: round, or with a Length an oval with straight sides.
type Hole struct {
	Across, Up float64 // its centre from the middle of the plate, m
	Diameter   float64 // of a round hole, or the width of an oval one, m
	Length     float64 // of an oval hole over its round ends, m; 0: round
	Turn       float64 // of an oval hole's length from across towards up, rad
}

// straight returns half the distance between the middles of the hole's round ends, m.
func (h Hole) straight() float64 { return math.Max(0, h.Length-h.Diameter) / 2 }

// ends returns the middles of the hole's two round ends.
func (h Hole) ends() [2]polygon.Point {
	s, c := math.Sincos(h.Turn)
	d := h.straight()
	return [2]polygon.Point{{X: h.Across + d*c, Y: h.Up + d*s}, {X: h.Across - d*c, Y: h.Up - d*s}}
}

// area returns the hole's area, m².
func (h Hole) area() float64 {
	return math.Pi/4*h.Diameter*h.Diameter + 2*h.straight()*h.Diameter
}

// Axes returns the plate's unit directions; across, up and the normal are right-handed.
func (p Plate) Axes() (across, up geometry.Vec) {
	n := p.Normal.Unit()
	across = geometry.V(0, 0, 1).Cross(n)
	if across.Norm() < 1e-9 {
		across = geometry.V(1, 0, 0)
	}
	across = across.Unit()
	return across, n.Cross(across)
}

// At returns the point of the plate that lies the given way from its middle, m.
func (p Plate) At(across, up float64) geometry.Vec {
	u, v := p.Axes()
	return p.Centre.AddScaled(u, across).AddScaled(v, up)
}

// Validate says what is wrong with the sizes and the way out.
func (p Plate) Validate() error {
	if err := firstError(needSize("plate width", p.Width), needSize("plate height", p.Height)); err != nil {
		return err
	}
	if !p.Normal.IsFinite() || p.Normal.Norm() == 0 || !p.Centre.IsFinite() {
		return fmt.Errorf("plate at %v has no direction: give a normal that is not zero", p.Centre)
	}
	for i, h := range p.Holes {
		if err := p.validateHole(i); err != nil {
			return err
		}
		for k, other := range p.Holes[:i] {
			if gap := h.gap(other); gap <= 0 {
				return fmt.Errorf("plate holes %d and %d run into each other by %s: move them apart", k+1, i+1, mm(-gap))
			}
		}
	}
	return nil
}

func (p Plate) validateHole(i int) error {
	h := p.Holes[i]
	if err := needSize(fmt.Sprintf("plate hole %d diameter", i+1), h.Diameter); err != nil {
		return err
	}
	if h.Length != 0 && !(h.Length >= h.Diameter && h.Length <= largest) || math.IsNaN(h.Turn) || math.IsInf(h.Turn, 0) {
		return fmt.Errorf("plate hole %d is %s long and %s wide: leave out the length of a round hole, or give one above the width", i+1, mm(h.Length), mm(h.Diameter))
	}
	left := math.Inf(1)
	for _, e := range h.ends() {
		left = math.Min(left, math.Min(p.Width/2-math.Abs(e.X), p.Height/2-math.Abs(e.Y))-h.Diameter/2)
	}
	if !(left > 0) {
		return fmt.Errorf("plate hole %d reaches over the plate's edge by %s: move it in, or make it smaller", i+1, mm(-left))
	}
	return nil
}

// Area returns the area of one face by formula, m².
func (p Plate) Area() float64 {
	area := p.Width * p.Height
	for _, h := range p.Holes {
		area -= h.area()
	}
	return area
}

// Mesh returns the sheet as an open surface turned to Normal, with chords of at most
// about edge metres round its holes.
func (p Plate) Mesh(edge float64) geometry.Mesh {
	w, h := p.Width/2, p.Height/2
	outline := []polygon.Point{{X: -w, Y: -h}, {X: w, Y: -h}, {X: w, Y: h}, {X: -w, Y: h}}
	holes := make([][]polygon.Point, len(p.Holes))
	for i, hole := range p.Holes {
		holes[i] = hole.rim(edge)
	}
	points := outline
	for _, rim := range holes {
		points = append(points[:len(points):len(points)], rim...)
	}
	var m geometry.Mesh
	for _, q := range points {
		m.Vertices = append(m.Vertices, p.At(q.X, q.Y))
	}
	for _, t := range polygon.Triangulate(outline, holes...) {
		m.Faces = append(m.Faces, [3]int32{int32(t[0]), int32(t[1]), int32(t[2])})
	}
	return m
}

// rim returns the hole's edge, clockwise: a half circle round either end.
func (h Hole) rim(edge float64) []polygon.Point {
	n := 2 * arcSteps(h.Diameter/2, math.Pi/2, edge)
	var out []polygon.Point
	for side, end := range h.ends() {
		for i := range n + 1 {
			if i == n && h.straight() == 0 {
				continue // the other half starts there
			}
			s, c := math.Sincos(h.Turn + math.Pi*(0.5-float64(side)-float64(i)/float64(n)))
			out = append(out, polygon.Point{X: end.X + h.Diameter/2*c, Y: end.Y + h.Diameter/2*s})
		}
	}
	return out
}

// gap returns the sheet left between two holes, m.
func (h Hole) gap(other Hole) float64 {
	a, b := h.ends(), other.ends()
	on := func(p polygon.Point) geometry.Vec { return geometry.V(p.X, p.Y, 0) }
	p, q := geometry.SegmentGap(on(a[0]), on(a[1]), on(b[0]), on(b[1]))
	return p.Dist(q) - (h.Diameter+other.Diameter)/2
}
