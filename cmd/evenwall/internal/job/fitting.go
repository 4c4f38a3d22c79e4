package job

import (
	"evenwall/geometry"
	"evenwall/geometry/shape"
)

// readFittings reads the necks, wells and tunnels beside a shape; none of them leaves the
// shape as it is.
func readFittings(f *fields, tank shape.Shape) shape.Shape {
	fitted := shape.Fitted{Tank: tank}
	for _, entry := range f.get("necks").list("necks") {
		fitted.Necks = append(fitted.Necks, readNeck(entry, geometry.Vec{Z: 1}))
	}
	for _, entry := range f.get("wells").list("wells") {
		fitted.Necks = append(fitted.Necks, readNeck(entry, geometry.Vec{Z: -1}))
	}
	for _, entry := range f.get("tunnels").list("tunnels") {
		t := entry.fields()
		fitted.Tunnels = append(fitted.Tunnels, shape.Tunnel{
			From:     t.need("from", "one end of its axis, outside the tank").point(),
			To:       t.need("to", "the other end").point(),
			Diameter: t.size("diameter"),
		})
		t.finish()
	}
	if len(fitted.Necks)+len(fitted.Tunnels) == 0 {
		return tank
	}
	return fitted
}

// readNeck reads a pipe let into the tank from outside; axis is its way out when not given.
func readNeck(v value, axis geometry.Vec) shape.Neck {
	f := v.fields()
	n := shape.Neck{
		Centre:   f.need("centre", "the middle of its outer end").point(),
		Axis:     axis,
		Diameter: f.size("diameter"),
	}
	if given := f.get("axis"); given.given() {
		n.Axis = given.direction()
	}
	f.finish()
	return n
}
