package table

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Wall that a node does not reach, in a chamber of its own, keeps what little it has: no
// division by nothing, and no wild ratio of two traces.
func TestWallThatANodeDoesNotReachIsNotPutRight(t *testing.T) {
	row := []float32{1, 2, 0, -1e-9, 1e-9, 0.5}
	fine := []float32{1.1, 1.9, 1e-12, 1e-9, 3e-9, 5}
	assert.InDeltaSlice(t, []float32{1.1, 0.95, 1, 1, 1, mostShare}, over(fine, row), 1e-6)
}
