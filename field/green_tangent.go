package field

import (
	"math"
	"slices"

	"evenwall/field/electrode"
)

// Tangent is a law made linear about one current density: volts = EMF + Slope j.
type Tangent struct {
	Slope float64 // ohm m²
	EMF   float64 // V
}

// TangentOf returns a law's tangent at a current density, A/m²; nil is the primary law.
func TangentOf(law electrode.Law, j float64) Tangent {
	drop, slope := orPrimary(law).Drop(j)
	t := Tangent{slope, drop - slope*j}
	if math.Abs(t.EMF) <= 1e-9*math.Abs(drop) {
		t.EMF = 0 // a plain resistance, but for rounding
	}
	return t
}

// Tangents is a wall law made linear, place by place.
type Tangents struct {
	Links   []Tangent // of each wall link of the liquid
	Patches []Tangent // of each patch of the recovery
}

// IsLinear reports whether a law is a plain resistance, whose tangent is the same anywhere.
func IsLinear(law electrode.Law) bool { return linear(orPrimary(law)) }

// TangentsAt returns a law's tangents at one current density all over, A/m².
func TangentsAt(law electrode.Law, f *Filled, r *Recovery, j float64) Tangents {
	one := TangentOf(law, j)
	return Tangents{slices.Repeat([]Tangent{one}, len(f.Liquid.Walls)), slices.Repeat([]Tangent{one}, len(r.Patches.All))}
}

// TangentsAbout returns the tangents of the wall's law where solutions of one filled tank and
// recovery have it on the average: at the geometric mean of their current densities.
func TangentsAbout(law electrode.Law, r *Recovery, all []*Solution) Tangents {
	var t Tangents
	var links, patches [][]float64
	for _, s := range all {
		j := make([]float64, len(s.solver.contacts))
		for i := range j {
			j[i] = s.solver.contacts[i].j
		}
		links = append(links, j)
		j, _ = s.WallCurrent(r)
		patches = append(patches, j)
	}
	for _, j := range meanDensities(links) {
		t.Links = append(t.Links, TangentOf(law, j))
	}
	for _, j := range meanDensities(patches) {
		t.Patches = append(t.Patches, TangentOf(law, j))
	}
	return t
}

// leastDensity is what current densities are raised to before their logarithm is taken,
// A/m²: a kinetic law is all but straight below.
const leastDensity = 1e-3

// meanDensities returns the geometric mean of rows that are alike.
func meanDensities(rows [][]float64) []float64 {
	out := make([]float64, len(rows[0]))
	for _, row := range rows {
		for i, j := range row {
			out[i] += math.Log(math.Max(math.Abs(j), leastDensity)) / float64(len(rows))
		}
	}
	for i := range out {
		out[i] = math.Exp(out[i])
	}
	return out
}
