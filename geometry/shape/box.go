package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
)

// Box is a cuboid whose edges and corners are all rounded to one radius. It stands
// with its floor on z = 0, centred on x = 0 and y = 0. A Radius of 0 is a sharp box.
type Box struct {
	Length float64 // along x, m
	Width  float64 // along y, m
	Height float64 // along z, m
	Radius float64 // of every edge, m
}

// Validate implements Shape.
func (b Box) Validate() error {
	err := firstError(needSize("box length", b.Length), needSize("box width", b.Width),
		needSize("box height", b.Height), needNotNegative("box edge radius", b.Radius))
	if err != nil {
		return err
	}
	if least := math.Min(b.Length, math.Min(b.Width, b.Height)); 2*b.Radius > least {
		return fmt.Errorf("box edge radius is %s: at most half the shortest side fits, %s", mm(b.Radius), mm(least/2))
	}
	return nil
}

// Bounds implements Shape.
func (b Box) Bounds() geometry.Box {
	return geometry.Box{Min: geometry.V(-b.Length/2, -b.Width/2, 0), Max: geometry.V(b.Length/2, b.Width/2, b.Height)}
}

// core is the box that the edge radius is rolled round.
func (b Box) core() geometry.Box { return b.Bounds().Grow(-b.Radius) }

// Contains implements Shape: inside is what lies within Radius of the core.
func (b Box) Contains(p geometry.Vec) bool {
	if b.Radius == 0 {
		return b.Bounds().Contains(p)
	}
	return b.core().Dist2(p) <= b.Radius*b.Radius
}

// Volume implements Shape: the core, its sides, edges and corners (Steiner 1840).
func (b Box) Volume() (float64, bool) {
	s, r := b.core().Size(), b.Radius
	sides := 2 * r * (s.X*s.Y + s.Y*s.Z + s.Z*s.X)
	edges := math.Pi * r * r * (s.X + s.Y + s.Z)
	return s.X*s.Y*s.Z + sides + edges + 4.0/3*math.Pi*r*r*r, true
}

// Mesh implements Shape: rounded rectangles from the floor to the roof, both flat.
func (b Box) Mesh(edge float64) geometry.Mesh {
	core, n := b.core(), arcSteps(b.Radius, math.Pi/2, edge)
	var rings [][]geometry.Vec
	ring := func(z, radius float64) {
		rings = append(rings, roundedRing(core, z, radius, n))
	}
	for i := range n + 1 {
		s, c := math.Sincos(math.Pi / 2 * float64(i) / float64(n))
		ring(core.Min.Z-b.Radius*c, b.Radius*s)
	}
	rise := core.Max.Z - core.Min.Z
	for i, k := 1, steps(rise, 4*edge); i < k; i++ {
		ring(core.Min.Z+rise*float64(i)/float64(k), b.Radius)
	}
	for i := range n + 1 {
		s, c := math.Sincos(math.Pi / 2 * float64(i) / float64(n))
		ring(core.Max.Z+b.Radius*s, b.Radius*c)
	}
	return tube(rings)
}

// roundedRing returns the rectangle of core at height z with corners of the given
// radius rolled round it, n steps a corner, anticlockwise from above.
func roundedRing(core geometry.Box, z, radius float64, n int) []geometry.Vec {
	corners := [...][2]float64{{core.Max.X, core.Max.Y}, {core.Min.X, core.Max.Y}, {core.Min.X, core.Min.Y}, {core.Max.X, core.Min.Y}}
	var ring []geometry.Vec
	for q, corner := range corners {
		for i := range n + 1 {
			s, c := sincosQuarter(q, float64(i)/float64(n))
			ring = append(ring, geometry.V(corner[0]+radius*c, corner[1]+radius*s, z))
		}
	}
	return ring
}

// sincosQuarter returns sine and cosine at fraction t through quarter turn q, exact at
// its ends, so that arcs meet straight sides without a kink.
func sincosQuarter(q int, t float64) (sin, cos float64) {
	s, c := math.Sincos(math.Pi / 2 * t)
	if t == 1 {
		s, c = 1, 0
	}
	switch q % 4 {
	case 0:
		return s, c
	case 1:
		return c, -s
	case 2:
		return -s, -c
	default:
		return -c, s
	}
}
