package charger

import "math"

// Circuit is everything in the loop, at one value each.
type Circuit struct {
	Volts  float64 // open circuit, V; the mean of a rectified wave
	Source float64 // ohm inside the supply
	Leads  float64 // ohm of leads and clips
	Limit  float64 // A; 0: none
	Lamp   *Lamp   // in series; nil: none
	Dead   float64 // V that the cell takes before current flows
	Bath   float64 // ohm of the cell beyond that, above 0
}

// Held is what holds the current.
type Held int

// What may hold the current.
const (
	HeldByVoltage Held = iota // the open-circuit voltage, through all resistances
	HeldByLimit               // the supply's current limit
	HeldAtRest                // the voltage does not reach the dead voltage
)

// String says it in words.
func (h Held) String() string {
	return [...]string{
		HeldByVoltage: "the voltage: more soda, a longer bare rod or a nearer rod raise the current",
		HeldByLimit:   "the supply's own limit: more soda only lowers the volts",
		HeldAtRest:    "no current: the supply does not reach what the cell takes before it conducts",
	}[h]
}

// Reading is what the meters should show.
type Reading struct {
	Amps   float64 // A
	Clips  float64 // V at the supply's clips
	Across float64 // V from rod to tank
	Lamp   float64 // V across the lamp
	Held   Held
}

// Operate returns the reading that the circuit settles at.
func (c Circuit) Operate() Reading {
	if c.Volts <= c.Dead {
		return Reading{Clips: c.Volts, Across: c.Volts, Held: HeldAtRest}
	}
	amps, held := c.free(), HeldByVoltage
	if c.Limit > 0 && amps > c.Limit {
		amps, held = c.Limit, HeldByLimit
	}
	across := c.Dead + amps*c.Bath
	lamp := c.lamp(amps)
	clips := across + lamp + amps*c.Leads
	return Reading{Amps: amps, Clips: clips, Across: across, Lamp: lamp, Held: held}
}

// free returns the current without a limit, A, by halving: the loss rises with the
// current, and the lamp can only lower it from the value without one.
func (c Circuit) free() float64 {
	drive, ohms := c.Volts-c.Dead, c.Source+c.Leads+c.Bath
	low, high := 0.0, drive/ohms
	if c.Lamp == nil {
		return high
	}
	for range 60 {
		mid := low + (high-low)/2
		if mid*ohms+c.lamp(mid) < drive {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Max(low, 0)
}

func (c Circuit) lamp(amps float64) float64 {
	if c.Lamp == nil {
		return 0
	}
	volts, _ := c.Lamp.Drop(amps)
	return volts
}
