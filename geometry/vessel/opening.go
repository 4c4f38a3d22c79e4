package vessel

import (
	"math"

	"evenwall/geometry"
)

// Use is what an opening is used for. The zero value is Open.
type Use int

const (
	Open    Use = iota // nothing in it: the liquid runs out there
	Plugged            // closed by something that does not conduct: neither wall nor outlet
	Steel              // closed by a metal plug: wall
)

// String returns the word that job files use.
func (u Use) String() string {
	switch u {
	case Open:
		return "open"
	case Plugged:
		return "plugged"
	case Steel:
		return "steel"
	default:
		return "unknown use"
	}
}

// Opening is a round hole in the shell. The circle need not be in the mesh.
type Opening struct {
	Name     string
	Centre   geometry.Vec // of the rim's circle
	Axis     geometry.Vec // outward; any length but zero
	Diameter float64      // m
	Use      Use
}

// Disc returns the region in which surface is opening and not wall: nearer to the axis
// than half the diameter and nearer to the plane than a quarter of it.
func (o *Opening) Disc() geometry.Disc {
	return geometry.Disc{Centre: o.Centre, Axis: o.Axis, Radius: o.Diameter / 2, Depth: o.Diameter / 4}
}

// rimLow returns the height of the lowest point of the rim, and that point.
func (o *Opening) rimLow(up geometry.Vec) (float64, geometry.Vec) {
	axis := o.Axis.Unit()
	cos := axis.Dot(up)
	downhill := axis.Scale(cos).Sub(up) // in the rim's plane, of length sin
	if sin := downhill.Norm(); sin > 1e-12 {
		low := o.Centre.AddScaled(downhill, o.Diameter/2/sin)
		return up.Dot(low), low
	}
	return up.Dot(o.Centre), o.Centre
}

// Covers reports whether p lies in the opening's circle as seen along its axis, no
// farther from its plane than reach metres.
func (o *Opening) Covers(p geometry.Vec, reach float64) bool {
	axis := o.Axis.Unit()
	q := p.Sub(o.Centre)
	z := q.Dot(axis)
	return math.Abs(z) <= reach && q.AddScaled(axis, -z).Norm() <= o.Diameter/2
}

// Vents reports whether p, in the propped frame, lies at an open opening: in its circle
// and no farther from its plane than reach metres or a quarter of its diameter.
func (v *Vessel) Vents(p geometry.Vec, reach float64) bool {
	p = v.Turn.Inverse().Apply(p)
	for i := range v.Openings {
		o := &v.Openings[i]
		if o.Use == Open && o.Covers(p, max(reach, o.Diameter/4)) {
			return true
		}
	}
	return false
}
