package charger

import "math"

// Sine is a full-wave rectified sine that is not smoothed, by its peak, V.
type Sine struct{ Peak float64 }

// SineOf returns the sine whose mean a moving-coil or d.c. meter shows, V.
func SineOf(mean float64) Sine { return Sine{Peak: mean * math.Pi / 2} }

// Mean returns the mean voltage, V, as a d.c. meter shows.
func (s Sine) Mean() float64 { return 2 * s.Peak / math.Pi }

// RMS returns the root of the mean square, V.
func (s Sine) RMS() float64 { return s.Peak / math.Sqrt2 }

// Pulses is the current that a rectified wave drives through a bath: it flows only while
// the voltage is above what the cell takes.
type Pulses struct {
	Mean   float64 // A, as a d.c. meter shows; what counts for rust and gas
	RMS    float64 // A; what counts for heat in leads
	Flows  float64 // share of the time with current
	Across float64 // V, mean over the bath, which holds its dead voltage in the gaps
	Power  float64 // W, mean of volts times amps at the bath
}

// Through returns the current into a cell that takes dead volts before it conducts, behind
// series ohm, with a resistance of its own, ohm. The cell's own resistance and dead
// voltage are taken as steady over the half wave.
func (s Sine) Through(dead, series, cell float64) Pulses {
	if s.Peak <= dead {
		return Pulses{Across: s.Mean()}
	}
	total := series + cell
	start := math.Asin(dead / s.Peak)
	width := math.Pi - 2*start // radians of the half wave with current
	// Integrals of (peak sin − dead) and of its square from start to π − start.
	first := 2*s.Peak*math.Cos(start) - dead*width
	second := s.Peak*s.Peak*(width+math.Sin(2*start))/2 - 4*s.Peak*dead*math.Cos(start) + dead*dead*width
	mean := first / math.Pi / total
	square := math.Max(0, second/math.Pi/(total*total))
	return Pulses{
		Mean: mean, RMS: math.Sqrt(square), Flows: width / math.Pi,
		Across: dead + cell*mean,
		Power:  dead*mean + cell*square,
	}
}
