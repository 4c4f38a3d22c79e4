package table

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry"
)

// blockGrid is nodes in a block of n a side, a step apart, under a surface.
func blockGrid(n int, step float64) *grid {
	g := &grid{index: map[[3]int]int32{}, step: step, level: 0, first: geometry.V(0, 0, -step/4)}
	for k := range n {
		for j := range n {
			for i := range n {
				g.index[[3]int{i, j, k}] = int32(len(g.nodes))
				g.nodes = append(g.nodes, node{at: geometry.V(float64(i)*step, float64(j)*step, g.layer(k))})
			}
		}
	}
	return g
}

// away is the potential of unit current at p with its image in z = 0.
func away(p, at geometry.Vec) float64 {
	return 1/p.Dist(at) + 1/p.WithAxis(2, -p.Z).Dist(at)
}

// A source's stand-ins make the same potential at wall a clearance away: exact Coulomb
// fields. Points lie as near the block's side as bare metal may: 9 mm inside the nodes of
// 20 mm to steel, and 29 mm from it.
func TestStandInsMakeTheSameField(t *testing.T) {
	const step = 0.016
	g := blockGrid(9, step)
	b := newBoxes(g, func(geometry.Vec, geometry.Vec) bool { return true })
	r := rand.New(rand.NewPCG(5, 6))
	side := 8 * step
	worst, sum, n := 0.0, 0.0, 0
	for range 400 {
		p := geometry.V(0.009+r.Float64()*(side-0.018), 0.009+r.Float64()*(side-0.018), -r.Float64()*(side-0.009))
		x := b.find(p)
		if !assert.NotNil(t, x) {
			return
		}
		v, _ := b.basis.at(p.Sub(x.centre).Scale(1 / step))
		for range 20 {
			at := geometry.V(-0.020, r.Float64()*side, -r.Float64()*side)
			if r.IntN(2) == 0 {
				at = geometry.V(side/2, r.Float64()*side, -side-0.016)
			}
			got := 0.0
			for i, node := range x.node {
				w := 0.0
				for k := range moments {
					w += x.weight[i*moments+k] * v[k]
				}
				got += w * away(g.nodes[node].at, at)
			}
			far := math.Abs(got/away(p, at) - 1)
			worst, sum, n = math.Max(worst, far), sum+far*far, n+1
		}
	}
	t.Logf("worst %.2e, root mean square %.2e", worst, math.Sqrt(sum/float64(n)))
	assert.Less(t, worst, 0.04) // one point beside the nearest wall; along a rod signs change
	assert.Less(t, math.Sqrt(sum/float64(n)), 1e-3)
}
