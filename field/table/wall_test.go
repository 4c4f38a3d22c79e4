package table

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/field"
	"evenwall/geometry"
)

// A floor of patches under a lattice of sources that hang 25 to 150 mm over it: each gets
// h/(2 pi r³) of a unit current. What is mixed from the kept patches is what each gets, by
// root mean square to alike, and far fewer are kept.
func TestKeptPatchesStandForAll(t *testing.T) {
	const side, pitch = 40, 0.008
	var patches []field.Patch
	for k := range side * side {
		patches = append(patches, field.Patch{Centre: geometry.V(float64(k%side)*pitch, float64(k/side)*pitch, 0), Normal: geometry.V(0, 0, -1), Area: pitch * pitch})
	}
	r := rand.New(rand.NewPCG(1, 2))
	var rows [][]float32
	for range 1500 {
		at, row := geometry.V(r.Float64()*side*pitch, r.Float64()*side*pitch, 0.025+0.125*r.Float64()), make([]float32, len(patches))
		for k := range patches {
			row[k] = float32(at.Z / (2 * math.Pi * math.Pow(at.Dist(patches[k].Centre), 3)))
		}
		rows = append(rows, row)
	}
	w := newWall(patches, rows, nil)
	seen := make([]bool, len(patches))
	sum := 0.0
	for i, row := range rows {
		w.eachGroup(w.nodes[i], func(group []int32, densities []float32) {
			for k, p := range group {
				seen[p] = true
				far := float64(densities[k]/row[p]) - 1
				sum += far * far
			}
		})
	}
	off := math.Sqrt(sum / float64(len(rows)*len(patches)))
	t.Logf("kept %d of %d, off by %.2e", w.kept, len(patches), off)
	assert.NotContains(t, seen, false)
	assert.Less(t, off, alike)
	assert.Less(t, w.kept, len(patches)/3)
}
