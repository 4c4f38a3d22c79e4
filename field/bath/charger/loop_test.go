package charger

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/bath"
)

// The ends of the band are Ohm's law at the ends of every part.
func TestReadingsSpanTheirParts(t *testing.T) {
	s, err := Plain(12, 6)
	require.NoError(t, err)
	l := Loop{Source: s, Leads: bath.Exactly(0.1), Dead: bath.Range{Low: 1.9, Mid: 2.2, High: 2.5}, Bath: bath.Around(3, 0.2)}
	low, mid, high := l.Readings()
	assert.InDelta(t, (13.5-2.5)/(0.65+0.1+3.6), low.Amps, 1e-12)
	assert.InDelta(t, (15-2.2)/(0.525+0.1+3), mid.Amps, 1e-12)
	assert.InDelta(t, (17-1.9)/(0.4+0.1+2.4), high.Amps, 1e-12)
	assert.True(t, bath.Range{Low: 2, Mid: 3, High: 6}.Contains(mid.Amps), "a few amps")
}

func TestReadingsOfABenchSupplyAreHeldByItsLimit(t *testing.T) {
	s, err := Bench(12, 2)
	require.NoError(t, err)
	l := Loop{Source: s, Leads: bath.Exactly(0.1), Dead: bath.Exactly(2.2), Bath: bath.Around(3, 0.2)}
	low, _, high := l.Readings()
	assert.Equal(t, HeldByLimit, low.Held)
	assert.Equal(t, 2.0, high.Amps)
	assert.Greater(t, low.Across, high.Across, "less soda shows as more volts")
}
