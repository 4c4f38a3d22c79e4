package charger

import "math"

// Lamp is a filament bulb in series with the bath: it takes little while the current is
// small and most of the voltage when the rod shorts to the tank, so it limits and shows.
type Lamp struct {
	Volts float64 // rated, V
	Watts float64 // rated, W
	Count int     // of equal bulbs side by side; 0 counts as 1
}

// Filaments, from memory: cold tungsten has a twelfth of its hot resistance (10 to 15),
// and the current of a glowing one goes as volts^0.55.
const (
	hotOverCold     = 12.0
	currentExponent = 0.55
)

// Rated returns the current of all bulbs together at their rated voltage, A.
func (l Lamp) Rated() float64 { return float64(max(l.Count, 1)) * l.Watts / l.Volts }

// Drop returns the volts across the lamp at a current, A, odd in it, and d volts / d amps,
// ohm: the glowing filament's law, or the cold resistance where that is more.
func (l Lamp) Drop(amps float64) (volts, slope float64) {
	size := math.Abs(amps) / l.Rated()
	cold := l.Volts / l.Rated() / hotOverCold
	glowing := l.Volts * math.Pow(size, 1/currentExponent)
	if glowing > cold*math.Abs(amps) {
		return math.Copysign(glowing, amps), glowing / (currentExponent * math.Abs(amps))
	}
	return cold * amps, cold
}
