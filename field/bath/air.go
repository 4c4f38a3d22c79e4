package bath

import "math"

// LeastDistance is the least distance of flames and sparks from an opening, m, whatever
// the formula gives.
const LeastDistance = 1.0

// Air is the fresh air that thins the hydrogen of one cell into a room. Both forms are
// for hydrogen alone over batteries; here hydrogen and oxygen leave together and burn
// undiluted, so they are lower bounds.
type Air struct {
	Battery float64 // m³/s by the battery-room form
	Percent float64 // m³/s that keeps hydrogen to 1 % of the air
}

// AirFor returns the fresh air for a current, A, at the air's temperature, K.
func AirFor(amps, temperature float64) Air {
	const hour = 3600
	return Air{
		// EN 50272-2 (2001), clause 8.2, as IEC 62485-2: 0.05 m³/h per ampere of gassing current;
		// 24-fold dilution, 0.42e-3 m³/(A h), fivefold margin.
		Battery: 0.05 * amps / hour,
		// A quarter of the lower flammable limit of 4 %.
		Percent: Evolved(amps, temperature, Atmosphere).Hydrogen / 0.01,
	}
}

// Least returns the larger of both, m³/s.
func (a Air) Least() float64 { return math.Max(a.Battery, a.Percent) }

// VentArea returns the free area of each of two openings, low and high, that draws air
// naturally, m² (EN 50272-2, clause 8.3: 28 cm² per m³/h).
func VentArea(air float64) float64 { return 28e-4 * air * 3600 }

// RoomVolume returns the least free volume of the room for natural draught, m³
// (EN 50272-2: 2.5 m³ per m³/h).
func RoomVolume(air float64) float64 { return 2.5 * air * 3600 }

// SparkDistance returns how far flames and sparks stay from the opening, m: by IEC
// 62485-2, d = 28.8 mm · (N · Igas · C)^⅓ with Igas in mA/(A h), here 288 mm · I^⅓ (from
// memory), and never less than LeastDistance.
func SparkDistance(amps float64) float64 {
	return math.Max(LeastDistance, batteryDistance(amps))
}

func batteryDistance(amps float64) float64 { return 0.288 * math.Cbrt(amps) }
