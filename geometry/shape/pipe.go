package shape

import (
	"math"

	"evenwall/geometry"
)

// pipe is a full round bar of space from one point to another, with flat ends: what a
// neck adds to a tank, and a tunnel takes away.
type pipe struct {
	from, to geometry.Vec // m
	diameter float64      // m
}

// along returns the unit direction and the length, m.
func (p pipe) along() (geometry.Vec, float64) {
	d := p.to.Sub(p.from)
	return d.Unit(), d.Norm()
}

func (p pipe) contains(q geometry.Vec) bool {
	d, length := p.along()
	s := q.Sub(p.from).Dot(d)
	return s >= 0 && s <= length && q.Dist(p.from.AddScaled(d, s)) <= p.diameter/2
}

// circle returns n points on the pipe's wall at s metres from its start.
func (p pipe) circle(s float64, n int) []geometry.Vec {
	d, _ := p.along()
	u, v := d.Perpendicular()
	out := make([]geometry.Vec, n)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = p.from.AddScaled(d, s).AddScaled(u, p.diameter/2*cos).AddScaled(v, p.diameter/2*sin)
	}
	return out
}

// rings returns circles along the pipe for a mesh.
func (p pipe) rings(edge float64) [][]geometry.Vec {
	_, length := p.along()
	n, k := 4*arcSteps(p.diameter/2, math.Pi/2, edge), steps(length, 2*edge)
	rings := make([][]geometry.Vec, k+1)
	for i := range rings {
		rings[i] = p.circle(length*float64(i)/float64(k), n)
	}
	return rings
}

func (p pipe) mesh(edge float64) geometry.Mesh { return tube(p.rings(edge)) }

// bounds returns the smallest box around the pipe: along each axis a disc of radius r
// square to d reaches r√(1 − d²).
func (p pipe) bounds() geometry.Box {
	d, _ := p.along()
	reach := func(c float64) float64 { return p.diameter / 2 * math.Sqrt(math.Max(0, 1-c*c)) }
	r := geometry.V(reach(d.X), reach(d.Y), reach(d.Z))
	b := geometry.BoxOf(p.from, p.to)
	return geometry.Box{Min: b.Min.Sub(r), Max: b.Max.Add(r)}
}
