package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/search"
)

func TestWhyThereAreFewerRodsThanAllowed(t *testing.T) {
	one, two := []job.Station{{Anodes: make([]job.Anode, 1)}}, []job.Station{{Anodes: make([]job.Anode, 1)}, {Anodes: make([]job.Anode, 2)}}
	var tally search.Tally
	assert.Nil(t, fewerWords(&tally, 1, one))
	assert.Nil(t, fewerWords(&tally, 2, two), "one station has two")

	tally.ByRods[2].Tried = 40
	tally.ByRods[2].Misfits[search.HitsSteel], tally.ByRods[2].Misfits[search.RodsMeet] = 30, 10
	assert.Equal(t, []string{"1, where search.count allows 3",
		"2: none of 40 layouts can be used, as the rods meet; what would help: thinner ones, a wider opening, or a second one",
		"3: not tried, as no 2 can hang"}, fewerWords(&tally, 3, one))

	tally.ByRods[2].Misfits[search.RodsMeet] = 3
	tally.ByRods[3].Tried = 5
	tally.ByRods[3].Misfits[search.NothingBare] = 5
	assert.Equal(t, []string{"1, where search.count allows 3",
		"2: 7 of 40 layouts can be used, and none of them was found to do better",
		"3: none of 5 layouts can be used, mostly: too near steel to be bare anywhere under the liquid; what would help: " +
			"a smaller search.clearance or search.tolerance, with spacers or a guard to keep metal off the wall, or another opening"}, fewerWords(&tally, 3, one))
}
