package multigrid

import (
	"evenwall/geometry/lattice"
)

// prolong adds the coarse correction to the fine level: at a child, its parent's value
// and a quarter of the difference to the three neighbours on the child's side, where
// there is a link to them. Exact for a linear function.
func (t *transfer) prolong(coarse *Operator, x, correction []float32) {
	coarse.eachRun(func(r lattice.Run) {
		s := coarse.stencil(r)
		steps := [6]int32{-1, 1, r.Step[0], r.Step[1], r.Step[2], r.Step[3]}
		for n := r.First + 1; n <= r.End; n++ {
			own := correction[n]
			var part [6]float32
			for d, step := range steps {
				if s.c[d][n-1-r.First] > 0 {
					part[d] = (correction[n+step] - own) / 4
				}
			}
			t.children[n-1].each(func(child int32, side [3]int) {
				x[child] += own + part[side[0]] + part[2+side[1]] + part[4+side[2]]
			})
		}
	})
}
