// Package electrode holds the laws by which a metal takes current from the liquid: the
// volts lost at the wall or at the rod as a function of the current density there.
//
// Everything is in SI: volts, A/m², ohm m². A current density is counted positive in
// the direction that the electrode works in (into the wall, out of the rod), and a
// drop is the volts taken from the driving voltage by that current, so both are
// positive in normal work and the same law serves either electrode.
package electrode

import "math"

// Law says how many volts are lost at a metal surface. Drop is odd in j, never falls
// as j rises, and is finite for every finite j; slope is d volts / d j, ohm m².
type Law interface {
	Drop(j float64) (volts, slope float64)
}

// Primary is the law of a metal that loses nothing: the liquid at its surface is at the
// metal's own potential, and geometry alone decides.
type Primary struct{}

// Drop returns 0, 0.
func (Primary) Drop(float64) (volts, slope float64) { return 0, 0 }

// Film is a linear loss, volts = Resistance · j. The zero value loses nothing.
type Film struct {
	Resistance float64 // ohm m²
}

// Drop implements Law.
func (f Film) Drop(j float64) (volts, slope float64) { return f.Resistance * j, f.Resistance }

// Series is several losses that carry the same current one after the other; the drops
// add. The empty Series loses nothing.
type Series []Law

// Drop implements Law.
func (s Series) Drop(j float64) (volts, slope float64) {
	for _, law := range s {
		v, d := law.Drop(j)
		volts, slope = volts+v, slope+d
	}
	return volts, slope
}

// Current returns the current density, A/m², at which law loses volts, and dj/dvolts
// there, S/m². It is odd in volts. A law that cannot lose so much at any current (Primary,
// for one) gives an infinite current density.
func Current(law Law, volts float64) (j, conductance float64) { return Through(law, 0, volts) }

// Through returns the current density, A/m², driven by volts through a linear resistance,
// ohm m², in series with law, and dj/dvolts there, S/m². It is odd in volts and infinite
// where nothing limits the current. It is Newton's rule on resistance·j + drop(j) = volts,
// kept inside a bracket that halves whenever a step would leave it.
func Through(law Law, resistance, volts float64) (j, conductance float64) {
	if volts < 0 {
		j, conductance = Through(law, resistance, -volts)
		return -j, conductance
	}
	loss := func(j float64) (v, slope float64) {
		v, slope = law.Drop(j)
		return v + resistance*j, slope + resistance
	}
	_, slope := loss(0)
	if volts == 0 {
		return 0, 1 / slope
	}
	low, high := bracket(loss, volts, slope)
	if math.IsInf(high, 1) {
		return high, high
	}
	return newton(loss, volts, low, high)
}

// bracket returns low < high with loss(low) <= volts <= loss(high), or high infinite
// when no finite current loses so much. slope is the loss's slope at rest.
func bracket(loss func(float64) (float64, float64), volts, slope float64) (low, high float64) {
	high = volts / slope // a concave loss is below its tangent at rest
	if slope == 0 || math.IsInf(high, 1) {
		high = 1
	}
	for factor := 2.0; ; factor *= factor {
		v, _ := loss(high)
		if v >= volts || math.IsInf(high, 1) {
			return low, high
		}
		low, high = high, high*factor
	}
}

// newton finds loss(j) = volts between low and high to the last few digits of j.
func newton(loss func(float64) (float64, float64), volts, low, high float64) (j, conductance float64) {
	j = low
	for range 200 {
		v, slope := loss(j)
		if v < volts {
			low = j
		} else {
			high = j
		}
		next := j + (volts-v)/slope
		if !(next >= low && next <= high) {
			next = between(low, high)
		}
		if math.Abs(next-j) <= 4e-16*math.Abs(next) {
			break
		}
		j = next
	}
	_, slope := loss(j)
	return j, 1 / slope
}

// between halves the bracket: by ratio when its ends are decades apart, else in the middle.
func between(low, high float64) float64 {
	if low > 0 && high > 4*low {
		return math.Sqrt(low) * math.Sqrt(high)
	}
	return low + (high-low)/2
}
