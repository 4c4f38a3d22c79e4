package units

// Quantities whose unit is the same in both systems.
var (
	Volts        = same("V", 1, 1)
	Amps         = same("A", 1, 1)
	Watts        = same("W", 1, 0)
	Ohms         = same("ohm", 1, 2)
	Hours        = same("h", 1.0/3600, 1)
	Minutes      = same("min", 1.0/60, 0)
	Conductivity = same("mS/cm", 10, 1)
	Energy       = same("kJ", 1e-3, 1)
	Percent      = same("%", 100, 0)
	Bare         = same("", 1, 0)
)

func same(name string, factor float64, places int) Unit {
	return Unit{names: [2]string{name, name}, factors: [2]float64{factor, factor}, places: [2]int{places, places}}
}
