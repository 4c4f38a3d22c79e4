package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
)

// Ring is a tank that runs in a level circle about the z axis, its lowest point on
// z = 0, with one cross-section all round.
type Ring struct {
	Diameter  float64 // of the circle of the cross-section's middle, m
	Width     float64 // of the cross-section, across the circle, m
	Height    float64 // m
	Roundness float64 // of the cross-section: 0 sharp corners, 1 a full ellipse
}

func (r Ring) outline() outline {
	return Section{Width: r.Width, Height: r.Height, Roundness: r.Roundness}.outline()
}

// Validate implements Shape.
func (r Ring) Validate() error {
	err := firstError(needSize("ring diameter", r.Diameter),
		Section{Width: r.Width, Height: r.Height, Roundness: r.Roundness}.validate("ring"))
	if err != nil {
		return err
	}
	if r.Width >= r.Diameter {
		return fmt.Errorf("ring is %s wide on a circle of %s: the width must be less than the diameter", mm(r.Width), mm(r.Diameter))
	}
	return nil
}

// Bounds implements Shape.
func (r Ring) Bounds() geometry.Box {
	out := (r.Diameter + r.Width) / 2
	return geometry.Box{Min: geometry.V(-out, -out, 0), Max: geometry.V(out, out, r.Height)}
}

// Contains implements Shape.
func (r Ring) Contains(p geometry.Vec) bool {
	return r.outline().contains(math.Hypot(p.X, p.Y)-r.Diameter/2, p.Z)
}

// Volume implements Shape: the cross-section times the way of its middle (Pappus).
func (r Ring) Volume() (float64, bool) { return r.outline().area() * math.Pi * r.Diameter, true }

// Mesh implements Shape.
func (r Ring) Mesh(edge float64) geometry.Mesh {
	section := r.outline().points(detail{}.finest(r.outline(), edge))
	n := 4 * arcSteps((r.Diameter+r.Width)/2, math.Pi/2, edge)
	rings := make([][]geometry.Vec, n)
	for i := range n {
		s, c := sincosQuarter(i/(n/4), float64(i%(n/4))/float64(n/4))
		for _, q := range section {
			// The axis runs to the left of someone who looks out along the radius.
			out := r.Diameter/2 - q.X
			rings[i] = append(rings[i], geometry.V(out*c, out*s, q.Y))
		}
	}
	return hoop(rings)
}
