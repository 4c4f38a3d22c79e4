package station

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand: 150 A h/m² at 100 A/m² take 3 h as the ceiling has it, 1.5 h as given, and by the
// square root 150/(√100 · 50^¼) h.
func TestBandByHand(t *testing.T) {
	p := Patches{Area: []float64{1}}
	b := Spread(p, aimFor(1), [][]float64{{100}}, []float64{1})
	assert.InDelta(t, 3*hour, b[0].Seconds, 1e-6)
	assert.InDelta(t, 1.5*hour, b[1].Seconds, 1e-6)
	assert.InDelta(t, 150/(10*math.Pow(50, 0.25))*hour, b[2].Seconds, 1e-6)
	earliest, latest, ever := b.Ends()
	assert.True(t, ever)
	assert.Equal(t, b[1].Seconds, earliest)
	assert.Equal(t, b[2].Seconds, latest)
}

// Half a day at 0.5 A/m² and half at 20: with a threshold only the second half counts.
func TestBandOfPositionsInTurn(t *testing.T) {
	p := Patches{Area: []float64{1}}
	b := Spread(p, aimFor(1), [][]float64{{0.5}, {20}}, []float64{7, 7})
	assert.InDelta(t, 15*hour, b[0].Seconds, 1e-6)
	assert.InDelta(t, 150/10.25*hour, b[1].Seconds, 1e-6)
	_, _, ever := Spread(p, aimFor(1), [][]float64{{0.5}}, []float64{1}).Ends()
	assert.False(t, ever, "under the threshold it never ends")
	assert.Equal(t, Band{}, Spread(p, aimFor(1), [][]float64{{0.5}}, []float64{0}))
}
