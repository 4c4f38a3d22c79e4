package shape

import (
	"math"

	"evenwall/geometry"
)

// profilePoint is a point of a meridian: its place along the axis and its distance
// from it, m.
type profilePoint struct{ along, radius float64 }

// turned returns the closed surface that the profile sweeps round the axis through
// centre. The profile runs along the axis; where it does not end on it, the end is
// closed by a flat disc.
func turned(axis Axis, centre geometry.Vec, profile []profilePoint, edge float64) geometry.Mesh {
	widest := 0.0
	for _, p := range profile {
		widest = math.Max(widest, p.radius)
	}
	n := 4 * arcSteps(widest, math.Pi/2, edge)
	rings := make([][]geometry.Vec, len(profile))
	for i, p := range profile {
		rings[i] = make([]geometry.Vec, n)
		for k := range n {
			s, c := sincosQuarter(k/(n/4), float64(k%(n/4))/float64(n/4))
			rings[i][k] = centre.Add(axis.place(p.along, p.radius*c, p.radius*s))
		}
	}
	return tube(rings)
}
