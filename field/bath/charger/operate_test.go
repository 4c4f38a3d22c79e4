package charger

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// 15 V, 0.4 + 0.1 ohm, 2.2 V dead, 2.7 ohm: 12.8/3.2 = 4 A; 13 V across, 13.4 V at the clips.
func TestOperateByHand(t *testing.T) {
	c := Circuit{Volts: 15, Source: 0.4, Leads: 0.1, Dead: 2.2, Bath: 2.7}
	r := c.Operate()
	assert.InDelta(t, 4, r.Amps, 1e-12)
	assert.InDelta(t, 13, r.Across, 1e-12)
	assert.InDelta(t, 13.4, r.Clips, 1e-12)
	assert.Equal(t, HeldByVoltage, r.Held)

	c.Limit = 2
	r = c.Operate()
	assert.Equal(t, HeldByLimit, r.Held)
	assert.InDelta(t, 7.6, r.Across, 1e-12)
	assert.InDelta(t, 7.8, r.Clips, 1e-12)

	c.Volts = 2
	r = c.Operate()
	assert.Equal(t, HeldAtRest, r.Held)
	assert.Zero(t, r.Amps)
}

// A bulb shows its rated volts at its rated current, and a twelfth of its hot resistance
// at rest (from memory, 10 to 15).
func TestLampAtItsRating(t *testing.T) {
	l := Lamp{Volts: 12, Watts: 55}
	volts, slope := l.Drop(55.0 / 12)
	assert.InDelta(t, 12, volts, 1e-12)
	assert.InDelta(t, 12/(55.0/12)/0.55, slope, 1e-12)
	_, cold := l.Drop(0)
	assert.InDelta(t, 144.0/55/12, cold, 1e-12)
	two := Lamp{Volts: 12, Watts: 55, Count: 2}
	both, _ := two.Drop(2 * 55.0 / 12)
	assert.InDelta(t, 12, both, 1e-12)
}

// A 12 V source shorted through a 12 V 55 W bulb gives the bulb's own 4.58 A.
func TestLampLimitsAShort(t *testing.T) {
	c := Circuit{Volts: 12, Lamp: &Lamp{Volts: 12, Watts: 55}, Bath: 1e-6}
	assert.InDelta(t, 55.0/12, c.Operate().Amps, 1e-4)
}

// Kirchhoff: the volts round the loop add up, with or without lamp and limit.
func TestVoltsRoundTheLoopAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Circuit{
			Volts:  rapid.Float64Range(3, 30).Draw(t, "volts"),
			Source: rapid.Float64Range(0, 2).Draw(t, "source"),
			Leads:  rapid.Float64Range(0, 0.3).Draw(t, "leads"),
			Dead:   2.2,
			Bath:   rapid.Float64Range(0.2, 30).Draw(t, "bath"),
		}
		without := c.Operate().Amps
		c.Lamp = &Lamp{Volts: 12, Watts: rapid.Float64Range(5, 100).Draw(t, "watts")}
		r := c.Operate()
		assert.InEpsilon(t, c.Volts, r.Clips+r.Amps*c.Source, 1e-9)
		assert.InEpsilon(t, r.Clips, r.Across+r.Lamp+r.Amps*c.Leads, 1e-12)
		assert.Less(t, r.Amps, without)
		c.Limit = r.Amps / 2
		assert.InEpsilon(t, r.Amps/2, c.Operate().Amps, 1e-12)
	})
}
