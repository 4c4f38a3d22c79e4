package shape

import (
	"math"
	"slices"

	"evenwall/geometry"
)

// Drum is a round vessel with a straight part and two like heads. Lying, it runs along
// x, centred on x = 0 and y = 0, its lowest line on z = 0. Upright, it runs along z,
// centred on x = 0 and y = 0, its lowest point on z = 0.
type Drum struct {
	Axis     Axis
	Diameter float64 // inside, m
	Length   float64 // of the straight part, without the heads, m; may be 0 with deep heads
	Head     Head    // both ends
}

// Validate implements Shape.
func (d Drum) Validate() error {
	length := needNotNegative("drum straight length", d.Length)
	if d.Head.Kind == Flat {
		length = needSize("drum straight length", d.Length)
	}
	return firstError(needSize("drum diameter", d.Diameter), length, d.Head.validate(d.Diameter))
}

// Overall returns the inside length from pole to pole, m.
func (d Drum) Overall() float64 { return d.Length + 2*d.Head.on(d.Diameter).depth }

// middle returns the middle of the axis in the tank frame.
func (d Drum) middle() geometry.Vec {
	if d.Axis == Upright {
		return geometry.V(0, 0, d.Overall()/2)
	}
	return geometry.V(0, 0, d.Diameter/2)
}

// Bounds implements Shape.
func (d Drum) Bounds() geometry.Box {
	a := d.Diameter / 2
	half := d.Axis.place(d.Overall()/2, a, a)
	m := d.middle()
	return geometry.Box{Min: m.Sub(half), Max: m.Add(half)}
}

// Contains implements Shape.
func (d Drum) Contains(p geometry.Vec) bool {
	s, u, v := d.Axis.local(p.Sub(d.middle()))
	over := math.Abs(s) - d.Length/2
	if over <= 0 {
		return u*u+v*v <= d.Diameter*d.Diameter/4
	}
	head := d.Head.on(d.Diameter)
	r := head.radius(over)
	return over <= head.depth && u*u+v*v <= r*r
}

// Volume implements Shape.
func (d Drum) Volume() (float64, bool) {
	return math.Pi/4*d.Diameter*d.Diameter*d.Length + 2*d.Head.on(d.Diameter).volume(), true
}

// Mesh implements Shape.
func (d Drum) Mesh(edge float64) geometry.Mesh {
	far := d.Head.on(d.Diameter).meridian(edge)
	for i := range far {
		far[i].along += d.Length / 2
	}
	profile := make([]profilePoint, 0, 2*len(far)+2)
	for _, p := range slices.Backward(far) {
		profile = append(profile, profilePoint{-p.along, p.radius})
	}
	for i, n := 0, steps(d.Length, 2*edge); i <= n; i++ {
		profile = append(profile, profilePoint{d.Length * (float64(i)/float64(n) - 0.5), d.Diameter / 2})
	}
	if d.Length == 0 {
		profile = profile[:len(profile)-1]
	}
	profile = append(profile, far...)
	return turned(d.Axis, d.middle(), profile, edge)
}
