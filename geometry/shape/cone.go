package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
)

// Cone is a round vessel that widens or narrows evenly, with flat ends; an end of
// diameter 0 is a point. Upright it stands on z = 0 about the z axis, Near below. Lying
// it runs along x from x = -Length/2, the Near end, about a level axis, its lowest
// point on z = 0.
type Cone struct {
	Axis      Axis
	Near, Far float64 // inside diameters at its two ends, m
	Length    float64 // between them, along the axis, m
}

// Validate implements Shape.
func (c Cone) Validate() error {
	if c.Near == 0 && c.Far == 0 {
		return fmt.Errorf("cone diameters are both 0 mm: give at least one")
	}
	return firstError(needNotNegative("cone near diameter", c.Near), needNotNegative("cone far diameter", c.Far),
		needSize("cone length", c.Length))
}

func (c Cone) middle() geometry.Vec {
	if c.Axis == Upright {
		return geometry.V(0, 0, c.Length/2)
	}
	return geometry.V(0, 0, math.Max(c.Near, c.Far)/2)
}

// Bounds implements Shape.
func (c Cone) Bounds() geometry.Box {
	a := math.Max(c.Near, c.Far) / 2
	half, m := c.Axis.place(c.Length/2, a, a), c.middle()
	return geometry.Box{Min: m.Sub(half), Max: m.Add(half)}
}

// Contains implements Shape.
func (c Cone) Contains(p geometry.Vec) bool {
	s, u, v := c.Axis.local(p.Sub(c.middle()))
	t := s/c.Length + 0.5
	return t >= 0 && t <= 1 && math.Hypot(u, v) <= (c.Near+(c.Far-c.Near)*t)/2
}

// Volume implements Shape: the frustum's πL/12 (a² + ab + b²).
func (c Cone) Volume() (float64, bool) {
	return math.Pi / 12 * c.Length * (c.Near*c.Near + c.Near*c.Far + c.Far*c.Far), true
}

// Mesh implements Shape.
func (c Cone) Mesh(edge float64) geometry.Mesh {
	n := steps(c.Length, 2*edge)
	profile := make([]profilePoint, n+1)
	for i := range profile {
		t := float64(i) / float64(n)
		profile[i] = profilePoint{c.Length * (t - 0.5), (c.Near + (c.Far-c.Near)*t) / 2}
	}
	return turned(c.Axis, c.middle(), profile, edge)
}
