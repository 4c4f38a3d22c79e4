package job

import "evenwall/geometry"

// fronts are the words for where the tank's front may be.
var fronts = []option[geometry.Sides]{
	{"+x", geometry.Sides{}}, {"+y", geometry.FrontAt(geometry.V(0, 1, 0))},
	{"-x", geometry.FrontAt(geometry.V(-1, 0, 0))}, {"-y", geometry.FrontAt(geometry.V(0, -1, 0))},
}

// readSides reads which way the front points; the left follows from it.
func readSides(v value) geometry.Sides {
	if !v.given() {
		return geometry.Sides{}
	}
	f := v.fields()
	front := choice(f.need("front", "the way the front points: +x, +y, -x or -y"), fronts)
	f.finish()
	return front
}

// readTwelve reads the side of the tank where the rim of an opening has twelve o'clock.
func readTwelve(v value, axis geometry.Vec) geometry.Vec {
	const most = 0.9 // cosine: nearer to the axis it is no place on the rim
	if !v.given() {
		return geometry.Vec{}
	}
	all := v.r.sides.All()
	options := make([]option[geometry.Vec], len(all))
	for i, side := range all {
		options[i] = option[geometry.Vec]{side.Name, side.Direction}
	}
	twelve := choice(v, options)
	if abs(twelve.Dot(axis)) > most {
		v.faultf("the opening itself looks that way or away from it: give a side that its rim has")
	}
	return twelve
}
