package bath

import "fmt"

// Pocket meters count dissolved salt in parts per million and work it out from the
// conductivity by a factor that their sheet gives: 0.5 on the table-salt scale, up to 0.7
// on the natural-water scale (common practice, no source).
const (
	LeastPPMFactor = 0.5 // ppm per µS/cm
	MostPPMFactor  = 0.7 // ppm per µS/cm
)

// FromPPM returns the conductivity, S/m, behind a reading in ppm on a meter whose factor,
// ppm per µS/cm, is known; factor 0: over all usual factors. A factor outside 0.4 to 1 is a
// *LimitError.
func FromPPM(ppm, factor float64) (Range, error) {
	const microsiemensPerCM = 1e-4 // S/m
	kappa := ppm * microsiemensPerCM
	if factor == 0 {
		return Range{kappa / MostPPMFactor, kappa / 0.6, kappa / LeastPPMFactor}, nil
	}
	fault := LimitError{"the meter's ppm factor", factor, 0.4, 1, "ppm per uS/cm", "it is on the meter's sheet, mostly 0.5 or 0.7"}
	return Exactly(kappa / factor), fault.check()
}

// FromCompensated returns the conductivity at the bath's own temperature, K, behind a
// reading that the meter has carried to 25 degC, as most do, at 2 % per kelvin (conductivity
// instruments' guidance). The band is for meters that use 1.9 to 2.2 %.
func FromCompensated(kappa25, temperature float64) Range {
	at := func(perKelvin float64) float64 { return kappa25 * (1 + perKelvin*(Celsius(temperature)-25)) }
	low, high := at(0.019), at(0.022)
	return Range{min(low, high), at(0.020), max(low, high)}
}

// FromCell returns the conductivity, S/m, that makes the bath take amps at volts across
// it: shape is the bath's resistance times conductivity, 1/m, as computed with the losses
// at the metal left out; lost is what these and the dead voltage take at that current, V.
func FromCell(shape, volts, lost, amps float64) (float64, error) {
	if amps < 0 || volts < 0 {
		return 0, fmt.Errorf("the reading is %.3g V and %.3g A: a negative sign means reversed leads, so switch off and put the tank on negative", volts, amps)
	}
	if amps == 0 || volts <= lost {
		return 0, fmt.Errorf("%.3g A at %.3g V across the bath says nothing about the liquid, for %.3g V go at the metal: look for a dry joint", amps, volts, lost)
	}
	return shape * amps / (volts - lost), nil
}
