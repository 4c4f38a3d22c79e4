package table

import (
	"math"

	"evenwall/geometry"
)

// degree is the highest degree of the solid harmonics that sources are matched in, and
// moments their number.
const (
	degree  = 4
	moments = (degree + 1) * (degree + 1)
)

// solid holds the solid harmonics r^l Y_lm at a point, Schmidt's seminormalised form: those
// of degree l at l² to l² + 2l.
type solid [moments]float64

// norms of the harmonics by degree and order, the double factorial included.
func norm(l, m int) float64 {
	n := 1.0
	if m > 0 {
		n = 2
	}
	for k := l - m + 1; k <= l+m; k++ {
		n /= float64(k)
	}
	n = math.Sqrt(n)
	for k := 2*m - 1; k > 1; k -= 2 {
		n *= float64(k)
	}
	return n
}

// term is one number with its slopes along x, y and z.
type term [4]float64

func (a term) times(b term) (c term) {
	c[0] = a[0] * b[0]
	for k := 1; k < 4; k++ {
		c[k] = a[0]*b[k] + a[k]*b[0]
	}
	return c
}

func (a term) plus(b term, scale float64) term {
	for k := range a {
		a[k] += scale * b[k]
	}
	return a
}

// basis holds the norms.
type basis [degree + 1][degree + 1]float64

func newBasis() (b basis) {
	for l := range degree + 1 {
		for m := range l + 1 {
			b[l][m] = norm(l, m)
		}
	}
	return b
}

// at returns the harmonics at a point and their slopes.
// Legendre functions by the usual recurrence (Abramowitz and Stegun 1964, 8.5.3), their
// powers of r kept with them.
func (b *basis) at(p geometry.Vec) (value solid, slope [3]solid) {
	x, y, z := term{p.X, 1}, term{p.Y, 0, 1}, term{p.Z, 0, 0, 1}
	r2 := x.times(x).plus(y.times(y), 1).plus(z.times(z), 1)
	cos, sin := term{1}, term{}
	for m := range degree + 1 {
		before, now := term{}, term{1}
		for l := m; l <= degree; l++ {
			b.put(&value, &slope, l*l+2*m, now.times(cos), b[l][m])
			if m > 0 {
				b.put(&value, &slope, l*l+2*m-1, now.times(sin), b[l][m])
			}
			next := z.times(now)
			for k := range next {
				next[k] *= float64(2*l+1) / float64(l-m+1)
			}
			next = next.plus(r2.times(before), -float64(l+m)/float64(l-m+1))
			before, now = now, next
		}
		cos, sin = x.times(cos).plus(y.times(sin), -1), x.times(sin).plus(y.times(cos), 1)
	}
	return value, slope
}

func (b *basis) put(value *solid, slope *[3]solid, at int, t term, by float64) {
	value[at] = by * t[0]
	for k := range slope {
		slope[k][at] = by * t[k+1]
	}
}
