package shape

import (
	"fmt"

	"evenwall/geometry"
)

// Wedge is a box whose roof slopes from the rear to the front. Its floor lies on
// z = 0, centred on x = 0 and y = 0; the four edges along x are rounded. A front or
// rear height may not be 0: give a knife edge a millimetre.
type Wedge struct {
	Length      float64 // along x, m
	Width       float64 // along y, m
	Rear, Front float64 // heights at its two end walls, m
	Radius      float64 // of the edges along x, m
}

// stack is the wedge as two cross-sections.
func (w Wedge) stack() Stack {
	return Stack{Sections: []Section{
		{At: -w.Length / 2, Width: w.Width, Height: w.Rear, Corner: w.Radius},
		{At: w.Length / 2, Width: w.Width, Height: w.Front, Corner: w.Radius},
	}}
}

// Validate implements Shape.
func (w Wedge) Validate() error {
	err := firstError(needSize("wedge length", w.Length), needSize("wedge width", w.Width),
		needSize("wedge rear height", w.Rear), needSize("wedge front height", w.Front))
	if err != nil {
		return err
	}
	if err := w.stack().Validate(); err != nil {
		return fmt.Errorf("wedge (sections 1 rear, 2 front): %w", err)
	}
	return nil
}

// Bounds implements Shape.
func (w Wedge) Bounds() geometry.Box { return w.stack().Bounds() }

// Contains implements Shape.
func (w Wedge) Contains(p geometry.Vec) bool { return w.stack().Contains(p) }

// Volume implements Shape.
func (w Wedge) Volume() (float64, bool) { return w.stack().Volume() }

// Mesh implements Shape.
func (w Wedge) Mesh(edge float64) geometry.Mesh { return w.stack().Mesh(edge) }
