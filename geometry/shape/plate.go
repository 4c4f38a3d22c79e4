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

// Hole is a round opening in a Plate.
type Hole struct {
	Across, Up float64 // its centre from the middle of the plate, m
	Diameter   float64 // m
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
			if gap := math.Hypot(h.Across-other.Across, h.Up-other.Up) - (h.Diameter+other.Diameter)/2; gap <= 0 {
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
	left := math.Min(p.Width/2-math.Abs(h.Across), p.Height/2-math.Abs(h.Up)) - h.Diameter/2
	if !(left > 0) {
		return fmt.Errorf("plate hole %d reaches over the plate's edge by %s: move it in, or make it smaller", i+1, mm(-left))
	}
	return nil
}

// Area returns the area of one face by formula, m².
func (p Plate) Area() float64 {
	area := p.Width * p.Height
	for _, h := range p.Holes {
		area -= math.Pi / 4 * h.Diameter * h.Diameter
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

// rim returns the hole's edge, clockwise.
func (h Hole) rim(edge float64) []polygon.Point {
	n := 4 * arcSteps(h.Diameter/2, math.Pi/2, edge)
	out := make([]polygon.Point, n)
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = polygon.Point{X: h.Across + h.Diameter/2*c, Y: h.Up - h.Diameter/2*s}
	}
	return out
}
