package plan

import (
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

// holds reports whether p is inside by its winding number or by most of three rays: the
// first sees through holes and overlapping bodies, the second through facets turned the
// wrong way.
func (in inside) holds(p geometry.Vec) bool {
	if in.winding().At(p) > 0.5 {
		return true
	}
	odd := 0
	for _, direction := range [3]geometry.Vec{{X: 0.91, Y: 0.17, Z: 0.38}, {X: -0.23, Y: 0.87, Z: 0.44}, {X: 0.31, Y: -0.41, Z: -0.86}} {
		odd += len(in.tree.Crossings(p, direction, nil)) % 2
	}
	return odd >= 2
}
