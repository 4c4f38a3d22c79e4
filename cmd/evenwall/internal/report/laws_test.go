package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWhetherTheOrderHolds(t *testing.T) {
	l := &Laws{Names: []string{"a", "b", "c"}, Kept: true, First: []string{"x", "x", "x"},
		Layouts: []ByLaws{{Name: "x", Hours: []*float64{nil, hoursOf(20), hoursOf(30)}, TenDays: []float64{0.5, 1, 1}}}}
	var b table
	b.laws(l)
	assert.Contains(t, b.String(), "x                    never, 50.0 %; 20.0 h, 100.0 %; 30.0 h, 100.0 %\n")
	assert.Contains(t, b.String(), "the same by all three")
	l.Kept = false
	assert.Contains(t, l.order(), "x comes first by all three; those behind it change places")
	l.First[2] = "y"
	assert.Equal(t, "by c y comes first", l.order())
}
