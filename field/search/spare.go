package search

import "evenwall/field/station"

// Spared is wall that is to get little, such as a weak seam.
type Spared struct {
	Patches []int   // as Exposure.Rate numbers them
	Most    float64 // current density on any of them, A/m²; 0: no limit
	Charge  float64 // on any of them in the aim's time, or until the layout finishes, or in ten days where it never does, C/m²; 0: no limit
}

// notSpared returns by how much a judged layout breaks the limits of wall to be spared, or nil.
func (r *run) notSpared(rec *record) *Misfit {
	if over := Over(r.Spare, r.Aim, rec.exposure.Rate, rec.verdict.Finish); over > 0 {
		return &Misfit{NotSpared, over}
	}
	return nil
}

// Over returns by how much current densities, A/m², break the limits of wall to be spared in the
// worst place, as a share of the limit; 0 where they do not. The charge is that of the aim's time
// where it gives one.
func Over(spare []Spared, a station.Aim, rate []float64, f station.Finish) float64 {
	over, seconds := 0.0, 10*day
	switch {
	case a.Within > 0:
		seconds = a.Within
	case f.Ever:
		seconds = f.Seconds
	}
	for _, s := range spare {
		most := 0.0
		for _, i := range s.Patches {
			most = max(most, rate[i])
		}
		if s.Most > 0 {
			over = max(over, most/s.Most-1)
		}
		if s.Charge > 0 {
			over = max(over, most*seconds/s.Charge-1)
		}
	}
	return over
}
