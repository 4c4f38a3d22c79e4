package table

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"evenwall/geometry"
)

// box is the space between eight nodes, with the nodes that stand for sources in it.
type box struct {
	centre geometry.Vec
	node   []int32
	weight []float64 // by node and moment: a node's current for each moment of a source
}

// boxes are the boxes that have nodes enough, by the least of their corners. Box k lies
// under layer k-1 and above layer k; box 0 between the surface and the first layer.
type boxes struct {
	*grid
	basis basis
	all   map[[3]int]*box
}

// How sources are matched, lengths in steps of the nodes.
const (
	mostNodes  = 26  // that stand for sources in one box
	leastNodes = 10  // fewer leave too much to chance
	stencil    = 2.4 // farthest from the box's middle
	wallAway   = 1.8 // distance at which moments count as they act there
	restraint  = 3e-3
	ownCharge  = 100 // how much more the current itself counts than other moments
)

// newBoxes finds the boxes. clear reports whether nothing stands between two points.
func newBoxes(g *grid, clear func(a, b geometry.Vec) bool) *boxes {
	b := &boxes{grid: g, basis: newBasis(), all: map[[3]int]*box{}}
	for at := range g.index {
		for corner := range 8 {
			key := [3]int{at[0] - corner&1, at[1] - corner>>1&1, at[2] + corner>>2}
			if _, ok := b.all[key]; !ok {
				b.all[key] = nil
			}
		}
	}
	keys := slices.SortedFunc(maps.Keys(b.all), func(p, q [3]int) int { return slices.Compare(p[:], q[:]) })
	made := make([]*box, len(keys))
	each(len(keys), func() func(int) {
		return func(i int) { made[i] = b.make(keys[i], clear) }
	})
	for i, key := range keys {
		if b.all[key] = made[i]; made[i] == nil {
			delete(b.all, key)
		}
	}
	return b
}

// key returns the box of a point.
func (b *boxes) key(p geometry.Vec) [3]int {
	u := p.Sub(b.first).Scale(1 / b.step)
	key := [3]int{int(math.Floor(u.X)), int(math.Floor(u.Y)), 0}
	if u.Z < 0 {
		key[2] = int(math.Floor(-u.Z)) + 1
	}
	return key
}

// beyond is how far past a box's middle, in steps, a source may lie along any axis when its
// own box has too few nodes.
const beyond = 0.9

// find returns the box of a point at or under the surface, or the nearest of those beside
// it; nil where there are no nodes.
func (b *boxes) find(p geometry.Vec) *box {
	key := b.key(p)
	if own := b.all[key]; own != nil {
		return own
	}
	var best *box
	least := math.Inf(1)
	for k := range 27 {
		beside := b.all[[3]int{key[0] + k%3 - 1, key[1] + k/3%3 - 1, key[2] + k/9 - 1}]
		if beside == nil {
			continue
		}
		d := p.Sub(beside.centre).Scale(1 / b.step)
		if max(d.X, -d.X, d.Y, -d.Y, d.Z, -d.Z) < beyond && d.Norm() < least {
			best, least = beside, d.Norm()
		}
	}
	return best
}

// make builds a box, or returns nil where nodes are too few.
func (b *boxes) make(key [3]int, clear func(a, b geometry.Vec) bool) *box {
	low := b.first.AddScaled(geometry.V(float64(key[0])+0.5, float64(key[1])+0.5, 0), b.step)
	out := &box{centre: low.WithAxis(2, (b.layer(key[2])+b.layer(key[2]-1))/2)}
	near := b.around(key, out.centre)
	if len(near) == 0 || near[0].at.Dist(out.centre) > 0.95*b.step {
		return nil
	}
	eye := near[0].at
	eye.Z = math.Min(eye.Z, 2*b.level-eye.Z)
	seen := near[:0]
	for _, n := range near {
		if len(seen) < mostNodes && clear(eye, b.nodes[n.node].at) {
			seen = append(seen, n)
		}
	}
	if len(seen) < leastNodes {
		return nil
	}
	b.match(out, seen)
	return out
}

// around returns the nodes within reach of a box's middle, nearest first.
func (b *boxes) around(key [3]int, centre geometry.Vec) []place {
	var near []place
	const reach = 3
	for k := key[2] - reach; k < key[2]+reach; k++ {
		for j := key[1] - reach + 1; j <= key[1]+reach; j++ {
			for i := key[0] - reach + 1; i <= key[0]+reach; i++ {
				if n, ok := b.grid.find(i, j, k); ok && n.at.Dist(centre) < stencil*b.step {
					near = append(near, n)
				}
			}
		}
	}
	slices.SortStableFunc(near, func(p, q place) int {
		return cmp.Compare(math.Round(p.at.Dist(centre)/b.step*1e6), math.Round(q.at.Dist(centre)/b.step*1e6))
	})
	return near
}

// match finds the weights: least squares of the moments, each as it acts at the nearest
// wall, with a restraint on the nodes' currents.
func (b *boxes) match(out *box, near []place) {
	n := len(near)
	a := mat.NewDense(moments+n, n, nil)
	var scale [moments]float64
	for l := range degree + 1 {
		for k := l * l; k < (l+1)*(l+1); k++ {
			scale[k] = math.Pow(wallAway, float64(-l))
		}
	}
	scale[0] = ownCharge
	for i, p := range near {
		v, _ := b.basis.at(p.at.Sub(out.centre).Scale(1 / b.step))
		for k := range v {
			a.Set(k, i, scale[k]*v[k])
		}
		a.Set(moments+i, i, restraint)
	}
	goal := mat.NewDense(moments+n, moments, nil)
	for k, s := range scale {
		goal.Set(k, k, s)
	}
	var w mat.Dense
	if err := w.Solve(a, goal); err != nil {
		return
	}
	for i, p := range near {
		at := slices.Index(out.node, p.node)
		if at < 0 { // a node and its image share one current
			at = len(out.node)
			out.node = append(out.node, p.node)
			out.weight = append(out.weight, make([]float64, moments)...)
		}
		for k := range moments {
			out.weight[at*moments+k] += w.At(i, k)
		}
	}
}
