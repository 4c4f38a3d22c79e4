package bench

import (
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
)

// Fit is what the readings say of bath and rod. The zero value is that they say nothing.
type Fit struct {
	Rows         int        // that it rests on
	Conductivity bath.Range // S/m at 20 degC, over what the dead voltage may be off by
	Crust        float64    // ohm that the rod gains with every A h since it was scrubbed
	Now          float64    // ohm of crust at the last reading
}

// kineticSlope is what the wall's overpotential rises by for ten times the current, V, as
// its default kinetics have it.
const kineticSlope = 0.12

// lost returns the volts that go at the metal at a current, A: the dead voltage and the electrode
// laws, as solved and moved to this current.
func (s *Station) lost(j *job.Job, amps float64) float64 {
	laws := math.Max(s.Across-s.Amps*s.Liquid, 0)
	switch {
	case s.Amps == 0 || amps <= 0:
		return s.Dead
	case j.Wall.HasOverpotential():
		return s.Dead + math.Max(laws+kineticSlope*math.Log10(amps/s.Amps), 0)
	}
	return s.Dead + laws*amps/s.Amps
}

// settling is how long a fresh rod takes to settle, s; readings before that are left out of
// the fit where there are later ones.
const settling = 300

// sample is a reading as the fit takes it: ohms = lean / conductivity + crust · since.
type sample struct {
	ohms   float64 // of the cell beyond what goes at the metal
	lean   float64 // 1/m: the liquid's resistance times its conductivity, over the temperature's factor
	since  float64 // A h
	weight float64
}

// fit finds the conductivity and the crust by least squares. Volts are read to the same
// error everywhere, so a resistance is as good as its current.
func fit(j *job.Job, stations []Station, points []Point) Fit {
	mid, crust, rows := solve(samples(j, stations, points, 0))
	if rows == 0 {
		return Fit{}
	}
	f := Fit{Rows: rows, Crust: crust, Conductivity: bath.Exactly(mid)}
	for _, shift := range []float64{-deadError, deadError} {
		if k, _, n := solve(samples(j, stations, points, shift)); n > 0 {
			f.Conductivity = f.Conductivity.Union(bath.Exactly(k))
		}
	}
	f.Now = crust * points[len(points)-1].Since
	return f
}

// samples returns the readings that say something, with shift volts more going at the metal.
func samples(j *job.Job, stations []Station, points []Point, shift float64) []sample {
	var all, settled []sample
	for i := range points {
		p := &points[i]
		s := &stations[p.Station]
		if !p.HasVolts() || !p.HasAmps() || p.Amps <= 0 || p.Spoilt {
			continue
		}
		drive := p.Volts - s.lost(j, p.Amps) - shift
		if drive <= 0 {
			continue
		}
		t := j.Bath.Kelvin()
		if p.HasKelvin() {
			t = p.Kelvin
		}
		shape := s.Liquid * j.Bath.Conductivity
		one := sample{drive / p.Amps, shape / bath.TemperatureFactor(t), p.Since, p.Amps * p.Amps}
		all = append(all, one)
		if p.Age >= settling {
			settled = append(settled, one)
		}
	}
	if len(settled) > 0 {
		return settled
	}
	return all
}

// solve returns the conductivity, S/m at 20 degC, and the crust, ohm/(A h), of the least
// squares, and how many readings it rests on; a crust below nothing is taken as none.
func solve(of []sample) (kappa, crust float64, rows int) {
	var aa, ab, bb, ay, by float64
	for _, s := range of {
		aa += s.weight * s.lean * s.lean
		ab += s.weight * s.lean * s.since
		bb += s.weight * s.since * s.since
		ay += s.weight * s.lean * s.ohms
		by += s.weight * s.since * s.ohms
	}
	if aa == 0 {
		return 0, 0, 0
	}
	resistivity := ay / aa
	if det := aa*bb - ab*ab; len(of) >= 3 && det > 1e-9*aa*bb {
		if c := (aa*by - ab*ay) / det; c > 0 {
			resistivity, crust = (bb*ay-ab*by)/det, c
		}
	}
	if resistivity <= 0 {
		return 0, 0, 0
	}
	return 1 / resistivity, crust, len(of)
}
