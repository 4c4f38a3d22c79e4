package bath

import "math"

// tablePoint is a row of a conductivity table.
type tablePoint struct {
	Share float64 // dry salt by mass of liquid
	Kappa float64 // S/m at 20 degC
}

// conductivities returns the table of a salt; its points rise in both columns. CRC Handbook
// of Chemistry and Physics, "Electrical Conductivity of Aqueous Solutions", 20 degC: carbonate
// and hydroxide as read in a transcription (± 3 %), bicarbonate (± 5 %) and phosphate (± 8 %)
// from memory.
func conductivities(salt Salt) []tablePoint {
	return [...][]tablePoint{
		Carbonate:   {{0.005, 0.70}, {0.01, 1.31}, {0.02, 2.33}, {0.05, 4.70}, {0.10, 7.44}, {0.15, 8.86}},
		Bicarbonate: {{0.005, 0.42}, {0.01, 0.82}, {0.02, 1.50}, {0.05, 3.14}},
		Hydroxide:   {{0.005, 2.48}, {0.01, 4.86}, {0.02, 9.31}, {0.05, 20.6}},
		Phosphate:   {{0.005, 0.73}, {0.01, 1.41}, {0.02, 2.27}, {0.05, 4.35}},
	}[salt]
}

const (
	perKelvin = 0.023 // of the value at 20 degC; ± 0.003, common to the dilute alkalis here
	coldest   = 0.0   // degC
	hottest   = 80.0  // degC
)

// TapWater is what ordinary water conducts before anything is put in, S/m: 0.1 to
// 0.8 mS/cm, from memory. It adds to a weak bath.
func TapWater() Range { return Range{0.01, 0.03, 0.08} }

// Conductivity returns κ, S/m, of a salt at a share of mass and a temperature, K: the
// table's piecewise power law times TemperatureFactor. A share beyond the table, or a
// temperature outside 0 to 80 degC, is a *LimitError.
func Conductivity(salt Salt, share, temperature float64) (Range, error) {
	table := conductivities(salt)
	most := table[len(table)-1].Share
	fault := LimitError{
		"the share of " + salt.Formula() + " by mass", share * 100, 0, most * 100, "%",
		"use less, or measure the conductivity and give that",
	}
	if err := fault.check(); err != nil {
		return Range{}, err
	}
	if err := checkTemperature(temperature); err != nil {
		return Range{}, err
	}
	a, n := piece(table, func(p tablePoint) bool { return share <= p.Share })
	kappa := a.Kappa * math.Pow(share/a.Share, n) * TemperatureFactor(temperature)
	return Around(kappa, spread(salt, temperature)), nil
}

// checkKappa faults a conductivity, S/m, that the salt does not reach within its table.
func checkKappa(salt Salt, kappa, temperature float64) error {
	if err := checkTemperature(temperature); err != nil {
		return err
	}
	return LimitError{
		"the conductivity", kappa, 0, mostKappa(salt, temperature), "S/m",
		salt.Formula() + " gives no more, and a bath needs far less",
	}.check()
}

// shareFor is the inverse of Conductivity's middle, for what checkKappa passes.
func shareFor(salt Salt, kappa, temperature float64) float64 {
	at20 := kappa / TemperatureFactor(temperature)
	a, n := piece(conductivities(salt), func(p tablePoint) bool { return at20 <= p.Kappa })
	return a.Share * math.Pow(at20/a.Kappa, 1/n)
}

// mostKappa returns the conductivity at the end of the table, S/m.
func mostKappa(salt Salt, temperature float64) float64 {
	table := conductivities(salt)
	return table[len(table)-1].Kappa * TemperatureFactor(temperature)
}

// piece returns a point and the exponent of the power law κ ∝ share^n through it, for the
// stretch of table that ends at the first point for which reaches holds. The stretch from
// nothing to the first point takes the exponent of the second.
func piece(table []tablePoint, reaches func(tablePoint) bool) (tablePoint, float64) {
	i := 1
	for i < len(table)-1 && !reaches(table[i]) {
		i++
	}
	a, b := table[i-1], table[i]
	return a, math.Log(b.Kappa/a.Kappa) / math.Log(b.Share/a.Share)
}

// TemperatureFactor returns κ at a temperature, K, over κ at 20 degC.
func TemperatureFactor(temperature float64) float64 { return 1 + perKelvin*(Celsius(temperature)-20) }

// spread returns the band of a conductivity from the table, as a share: 8 % from 10 to
// 40 degC, where the straight temperature line holds; 12 % outside, and for phosphate.
func spread(salt Salt, temperature float64) float64 {
	if t := Celsius(temperature); salt == Phosphate || t < 10 || t > 40 {
		return 0.12
	}
	return 0.08
}

func checkTemperature(temperature float64) error {
	return LimitError{"the temperature of the bath", Celsius(temperature), coldest, hottest, "degC", "let it come nearer to 20 degC"}.check()
}
