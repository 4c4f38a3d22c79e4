package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A rod of 10 mm that leans 45 degrees cuts an ellipse of 10 by 14.1 mm from the rim's plane: in the
// middle of 60 mm, by hand, 30 less 7.07 along its lean and 30 less 5 across.
func TestALeaningRodIsLongerInTheRim(t *testing.T) {
	tank := made(t, `
job: 1
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  openings: [{name: filler, centre: [0, 0, 150], axis: [0, 0, 1], diameter: 60}]
bath: {conductivity: 6 mS/cm}
supply: {voltage: 12 V}
anodes: [{diameter: 10, through: filler, top: [-60, 0, 210], tip: [60, 0, 90]}]
`)
	a := &tank.Job.Anodes[0]
	assert.Equal(t, "23 mm to the front, 23 mm to the rear, 25 mm to the left, 25 mm to the right", tank.atRim(a, tank.holdOf(a)))
}
