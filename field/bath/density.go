package bath

import "math"

// WaterDensity returns the density of water, kg/m³, at a temperature in K, 0 to 100 degC
// (Kell 1975, from memory).
func WaterDensity(temperature float64) float64 {
	t := Celsius(temperature)
	top := 999.83952 + t*(16.945176+t*(-7.9870401e-3+t*(-46.170461e-6+t*(105.56302e-9-t*280.54253e-12))))
	return top / (1 + 16.879850e-3*t)
}

// Density returns the density of the liquid, kg/m³, at a share of dry salt by mass and a
// temperature in K. Carbonate by Laliberté (2009), its apparent volume as a function
// of share and temperature, ± 0.3 %; the others by their values at 20 degC (same source,
// ± 0.5 %), moved with the water's own.
func Density(salt Salt, share, temperature float64) float64 {
	water := WaterDensity(temperature)
	if salt == Carbonate {
		return 1 / ((1-share)/water + share*carbonateVolume(share, Celsius(temperature)))
	}
	return water + riseAt20(salt, share)
}

// carbonateVolume returns the apparent volume of dissolved Na2CO3, m³/kg, at t degC. It is negative
// in weak baths: the salt draws the water together.
func carbonateVolume(w, t float64) float64 {
	const c0, c1, c2, c3, c4 = 5.4549e-7, 1.7215e-7, -0.082585, 0.00168823, 4705.398
	// Laliberté (2009), eq. for the apparent density, from memory, turned upside down.
	return (w + c2 + c3*t) / ((c0*w + c1) * math.Exp(1e-6*(t+c4)*(t+c4)))
}

// riseAt20 returns how much denser than water the liquid is at 20 degC, kg/m³: straight
// lines between the values computed from Laliberté (2009), the last one continued.
func riseAt20(salt Salt, share float64) float64 {
	const water = 998.2 // kg/m³
	table := [...][]curvePoint{
		Bicarbonate: {{0, 0}, {0.01, 1005.5 - water}, {0.05, 1034.3 - water}},
		Hydroxide:   {{0, 0}, {0.01, 1009.2 - water}, {0.02, 1020.2 - water}, {0.05, 1053.2 - water}},
		Phosphate:   {{0, 0}, {0.01, 1009.3 - water}, {0.02, 1020.5 - water}},
	}[salt]
	return along(table, share)
}

// curvePoint is a row of a table read by straight lines.
type curvePoint struct{ x, y float64 }

// along returns y at x by straight lines through table, which has two rows or more with
// rising x; the first and last lines are continued outward.
func along(table []curvePoint, x float64) float64 {
	i := 1
	for i < len(table)-1 && x > table[i].x {
		i++
	}
	a, b := table[i-1], table[i]
	return a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)
}

// Solubility returns how much dry washing soda the water takes up at a temperature, K,
// 0 to 40 degC, as a share of the liquid's mass (solubility table, ± 3 %). Beyond it crystals
// stay on the floor.
func Solubility(temperature float64) float64 {
	perWater := along([]curvePoint{{0, 0.070}, {10, 0.122}, {20, 0.218}, {25, 0.294}, {30, 0.397}, {40, 0.488}},
		math.Min(math.Max(Celsius(temperature), 0), 40))
	return perWater / (1 + perWater)
}
