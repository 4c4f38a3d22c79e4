package plan

import (
	"math"
	"sync"

	"evenwall/geometry"
)

// inside tells points in a shell from those outside it.
type inside struct {
	tree    *geometry.Tree
	winding func() *geometry.Winding // made when it is first asked for
}

func newInside(shell *geometry.Mesh) inside {
	tree := geometry.NewTree(shell)
	return inside{tree, sync.OnceValue(func() *geometry.Winding { return geometry.NewWinding(tree) })}
}

// holds reports whether p is inside: by how often three rays leave less how often they enter,
// where the three agree, as they do on a sound shell; else by its winding number, which sees
// through holes and overlapping bodies, or by the parity of most of the rays, which sees
// through facets turned the wrong way.
func (in inside) holds(p geometry.Vec) bool {
	odd, least, most := 0, math.MaxInt, math.MinInt
	for _, direction := range [3]geometry.Vec{{X: 0.91, Y: 0.17, Z: 0.38}, {X: -0.23, Y: 0.87, Z: 0.44}, {X: 0.31, Y: -0.41, Z: -0.86}} {
		crossings, around := in.tree.Crossings(p, direction, nil), 0
		for _, c := range crossings {
			if c.Out {
				around++
			} else {
				around--
			}
		}
		odd += len(crossings) % 2
		least, most = min(least, around), max(most, around)
	}
	if least == most {
		return least > 0
	}
	return in.winding().At(p) > 0.5 || odd >= 2
}
