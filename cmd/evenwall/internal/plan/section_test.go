package plan

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An insulated hole takes 40 of the 1080 mm of a section's outline away: it is no wall, and the wall
// that is left gets so much more.
func TestAPlugIsNoWallOfASection(t *testing.T) {
	const box = `
job: 1
tank:
  shape: {box: {length: 340, width: 200, height: 190}}
  openings:
    - {name: filler, centre: [-60, 0, 190], axis: [0, 0, 1], diameter: 70}
    %s
bath: {conductivity: 6 mS/cm}
supply: {voltage: 12 V}
anodes: [{diameter: 10, through: filler, top: [-60, 0, 250], tip: [-60, 0, 40], bare: [[0, 100]]}]
`
	for hole, outline := range map[string]float64{"": 1080, "- {name: side, centre: [40, 100, 90], axis: [0, 1, 0], diameter: 40, use: plugged}": 1040} {
		a, err := Section(context.Background(), parsed(t, fmt.Sprintf(box, hole)), 0.090, quiet)
		require.NoError(t, err)
		r := a.Result
		assert.InEpsilon(t, outline, r.Section.OutlineMM, 0.002, hole)
		assert.InEpsilon(t, 1, r.Wall.FluxClosure, 0.01, hole)
		assert.InEpsilon(t, 1000*r.Section.CurrentAM/outline, r.Wall.MeanAM2, 0.005, hole)
	}
}
