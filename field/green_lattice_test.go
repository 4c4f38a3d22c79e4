package field

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Watson's value at the point itself; the lattice's own equation; and where the table ends,
// the formula for great distances.
func TestEndlessLattice(t *testing.T) {
	e := newEndless()
	assert.InDelta(t, 0.2527310098, e.at([3]int{}), 1e-8)
	for _, p := range [][3]int{{0, 0, 0}, {1, 0, 0}, {3, -2, 1}, {5, 5, 5}, {9, 4, 0}} {
		out := 6 * e.at(p)
		for axis := range 3 {
			for _, by := range []int{-1, 1} {
				q := p
				q[axis] += by
				out -= e.at(q)
			}
		}
		want := 0.0
		if p == [3]int{} {
			want = 1
		}
		assert.InDelta(t, want, out, 1e-8, "%v", p)
	}
	for _, p := range [][3]int{{10, 3, 5}, {10, 0, 0}, {10, 10, 10}} {
		assert.InEpsilon(t, e.at(p), farOff(p), 3e-4, "%v", p)
	}
}
