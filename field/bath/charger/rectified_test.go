package charger

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Form factor of a rectified sine: rms/mean = π/(2√2) = 1.1107.
func TestFormFactor(t *testing.T) {
	s := SineOf(15)
	assert.InDelta(t, 15, s.Mean(), 1e-12)
	assert.InDelta(t, 1.1107, s.RMS()/s.Mean(), 0.00005)
	assert.InDelta(t, 23.56, s.Peak, 0.005)
}

// With nothing dead, Ohm's law holds for mean and rms alike.
func TestPulsesIntoAPlainResistance(t *testing.T) {
	p := SineOf(15).Through(0, 0.5, 2.5)
	assert.InDelta(t, 5, p.Mean, 1e-12)
	assert.InDelta(t, SineOf(15).RMS()/3, p.RMS, 1e-12)
	assert.InDelta(t, 1, p.Flows, 1e-12)
	assert.InDelta(t, 2.5*p.RMS*p.RMS, p.Power, 1e-12)
}

func TestNoPulsesBelowTheDeadVoltage(t *testing.T) {
	p := Sine{Peak: 2}.Through(2.2, 0.5, 2)
	assert.Zero(t, p.Mean)
	assert.Zero(t, p.Power)
	assert.InDelta(t, 4/math.Pi, p.Across, 1e-12)
}

// The closed forms against sums over the half wave, 20,000 midpoints.
func TestPulsesAgainstSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Sine{Peak: rapid.Float64Range(3, 40).Draw(t, "peak")}
		dead := rapid.Float64Range(0, 0.9).Draw(t, "share") * s.Peak
		const series, cell, n = 0.4, 3.0, 20000
		var mean, square, power float64
		for i := range n {
			v := s.Peak * math.Sin(math.Pi*(float64(i)+0.5)/n)
			amps := math.Max(0, (v-dead)/(series+cell))
			mean += amps / n
			square += amps * amps / n
			power += amps * (dead + cell*amps) / n
		}
		p := s.Through(dead, series, cell)
		assert.InEpsilon(t, mean, p.Mean, 1e-5)
		assert.InEpsilon(t, math.Sqrt(square), p.RMS, 1e-5)
		assert.InEpsilon(t, power, p.Power, 1e-5)
	})
}
