package table

import (
	"math"

	"evenwall/field/electrode"
)

// quick is a law looked up: straight lines between knots, so many to each doubling of the
// current density that a logarithm is met to 5e-4 of its volts per e-fold.
type quick struct {
	law   electrode.Law
	knots []knot
}

// knot is the law at a current density; its line goes on to the next.
type knot struct {
	volts, slope   float64 // V, ohm m²
	rises, steeper float64 // to the next knot, per unit of the mantissa's share
}

// The current densities, A/m², that are looked up, as powers of two, and how many knots there
// are to each doubling, as a power of two as well.
const (
	leastPower, mostPower = -20, 17
	splitPower            = 4
)

func newQuick(law electrode.Law) *quick {
	q := &quick{law: law, knots: make([]knot, (mostPower-leastPower)<<splitPower+1)}
	for i := range q.knots {
		mantissa := 1 + float64(i&(1<<splitPower-1))/(1<<splitPower)
		q.knots[i].volts, q.knots[i].slope = law.Drop(math.Ldexp(mantissa, leastPower+i>>splitPower))
	}
	for i := range q.knots[:len(q.knots)-1] {
		k, next := &q.knots[i], &q.knots[i+1]
		k.rises, k.steeper = next.volts-k.volts, next.slope-k.slope
	}
	return q
}

// Drop implements electrode.Law.
func (q *quick) Drop(j float64) (volts, slope float64) {
	const (
		fraction = 52 // bits of a float64's
		bias     = 1023
		rest     = fraction - splitPower
	)
	bits := math.Float64bits(math.Abs(j))
	at := int(bits>>rest) - (bias+leastPower)<<splitPower
	if at < 0 || at >= len(q.knots)-1 {
		return q.law.Drop(j)
	}
	k, share := &q.knots[at], float64(bits&(1<<rest-1))/(1<<rest)
	return math.Copysign(k.volts+share*k.rises, j), k.slope + share*k.steeper
}
