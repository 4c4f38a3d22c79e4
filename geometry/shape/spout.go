package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
	"evenwall/geometry/carve"
)

// Sheet is steel inside a tank without thickness: an open surface, wall on both faces.
type Sheet interface {
	// Validate says what is wrong with the sizes and the way out.
	Validate() error
	// Mesh returns the surface with chords of at most about edge metres.
	Mesh(edge float64) geometry.Mesh
}

// Spout is a filler's tube that goes on down inside the tank, with an optional
// restrictor: a disc with a hole at its lower end.
type Spout struct {
	Centre     geometry.Vec // middle of its upper end, m
	Axis       geometry.Vec // outward, as that of the filler; of any length
	Diameter   float64      // m
	Length     float64      // inward from Centre, m
	Restrictor float64      // diameter of the hole in a disc across the lower end, m; 0: none
}

// Validate implements Sheet.
func (s Spout) Validate() error {
	err := firstError(needPoint("spout centre", s.Centre), needDirection("spout axis", s.Axis),
		needSize("spout diameter", s.Diameter), needSize("spout length", s.Length), needNotNegative("restrictor diameter", s.Restrictor))
	if err != nil {
		return err
	}
	if s.Restrictor >= s.Diameter {
		return fmt.Errorf("restrictor diameter is %s: it must be less than the spout's, %s", mm(s.Restrictor), mm(s.Diameter))
	}
	return nil
}

// Mesh implements Sheet; facets are turned outward from the tube, and down.
func (s Spout) Mesh(edge float64) geometry.Mesh {
	p := pipe{s.Centre.AddScaled(s.Axis.Unit(), -s.Length), s.Centre, s.Diameter}
	edge = math.Min(edge, s.Diameter/8)
	rings := p.rings(edge)
	if s.Restrictor > 0 {
		hole := p
		hole.diameter = s.Restrictor
		rings = append([][]geometry.Vec{hole.circle(0, len(rings[0]))}, rings...)
	}
	var out skin
	for _, r := range rings {
		out.lay(r)
	}
	return out.mesh
}

// Within returns the part of a sheet that lies inside a tank's closed surface, so that
// a baffle typed in as a rectangle fits a tank with rounded edges.
func Within(sheet, tank geometry.Mesh) (geometry.Mesh, error) {
	m, err := carve.Trim(&sheet, &tank)
	if err != nil {
		return m, fmt.Errorf("sheet cannot be trimmed to the tank: %w", err)
	}
	if len(m.Faces) == 0 {
		return m, fmt.Errorf("sheet at %v lies outside the tank: check its place", sheet.Bounds().Centre())
	}
	return m, nil
}
