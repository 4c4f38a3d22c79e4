package table

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Rows added four at a time make to the last bit what they make one by one.
func TestRowsAreAddedOneAfterTheOther(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	some := func(n int) []float32 {
		v := make([]float32, n)
		for i := range v {
			v[i] = r.Float32() - 0.5
		}
		return v
	}
	for _, n := range []int{1, 8, 37, 200} {
		for count := range 10 {
			sum, by := some(n), some(count)
			rows := make([][]float32, count)
			want := slices.Clone(sum)
			for k := range rows {
				rows[k] = some(n)
				for i, v := range rows[k] {
					want[i] += by[k] * v
				}
			}
			addRows(sum, by, func(k int) []float32 { return rows[k] })
			assert.Equal(t, want, sum, "%d rows of %d", count, n)
		}
	}
}
