package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
)

// Lobes is a pair of like tanks side by side, joined by a round pipe across: what sits
// astride a frame. The lobes stand Spread apart, middle to middle, to the left and the
// right of y = 0.
type Lobes struct {
	Lobe      Shape
	Spread    float64 // between the middles of the lobes, m
	Crossover Crossover
}

// Crossover is the pipe between two lobes, level and along y.
type Crossover struct {
	X, Z     float64 // of its axis, m
	Diameter float64 // inside, m
}

// lobe returns one lobe's place: side 1 left, -1 right.
func (l Lobes) at(side float64) geometry.Vec { return geometry.V(0, side*l.Spread/2, 0) }

// pipe is the crossover from the middle of one lobe to that of the other.
func (l Lobes) pipe() pipe {
	c := geometry.V(l.Crossover.X, 0, l.Crossover.Z)
	return pipe{c.Add(l.at(-1)), c.Add(l.at(1)), l.Crossover.Diameter}
}

// Validate implements Shape.
func (l Lobes) Validate() error {
	if l.Lobe == nil {
		return fmt.Errorf("lobes have no shape: give that of one lobe")
	}
	if err := l.Lobe.Validate(); err != nil {
		return err
	}
	err := firstError(needSize("lobe spread", l.Spread), needSize("crossover diameter", l.Crossover.Diameter),
		needPlace("crossover x", l.Crossover.X), needPlace("crossover z", l.Crossover.Z))
	if err != nil {
		return err
	}
	if b := l.Lobe.Bounds(); math.Abs(b.Max.Y+b.Min.Y) > 1e-6 || b.Size().Y >= l.Spread {
		return fmt.Errorf("lobes %s wide do not stand apart at a spread of %s: give a larger spread", mm(b.Size().Y), mm(l.Spread))
	}
	middle := l.pipe()
	middle.from = middle.from.Sub(l.at(-1))
	if !all(middle.circle(0, 48), l.Lobe.Contains) {
		return fmt.Errorf("crossover of %s at x %s, z %s does not lie inside the lobe's middle: move it, or make it smaller",
			mm(l.Crossover.Diameter), mm(l.Crossover.X), mm(l.Crossover.Z))
	}
	return nil
}

// Bounds implements Shape.
func (l Lobes) Bounds() geometry.Box {
	b := l.Lobe.Bounds()
	b.Min.Y -= l.Spread / 2
	b.Max.Y += l.Spread / 2
	return b
}

// Contains implements Shape.
func (l Lobes) Contains(p geometry.Vec) bool {
	side := math.Copysign(1, p.Y)
	return l.Lobe.Contains(p.Sub(l.at(side))) || l.pipe().contains(p)
}

// Volume implements Shape; there is no formula.
func (l Lobes) Volume() (float64, bool) { return 0, false }

// Mesh implements Shape.
func (l Lobes) Mesh(edge float64) geometry.Mesh {
	lobe := l.Lobe.Mesh(edge)
	m := l.pipe().mesh(math.Min(edge, l.Crossover.Diameter/8))
	for _, side := range []float64{1, -1} {
		m = joined(m, lobe.Transformed(l.at(side).Add))
	}
	return m
}
