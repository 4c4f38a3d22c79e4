package field

import "math"

// latticeSide is how far apart, in spacings along each axis, points of a lattice may be
// whose potential is looked up; farther apart the formula for great distances is taken.
const latticeSide = 10

// endless is kappa h times the potential that unit current into one point of a cubic
// lattice without end makes at another, by the absolute differences of their indices.
type endless [latticeSide + 1][latticeSide + 1][latticeSide + 1]float64

// newEndless integrates the products of Bessel functions that lattice Green functions are:
// the integral over t of exp(-6t) I_i(2t) I_j(2t) I_k(2t), from memory; Watson (1939) gives
// 0.2527310098 at the point itself.
func newEndless() *endless {
	e := &endless{}
	const step, low, high = 0.05, -21.0, 14.0
	for s := low; s <= high; s += step {
		t := math.Exp(s)
		b := scaledBessel(2 * t)
		weight := step * t
		if s+step > high { // the rest falls as t to the power -3/2
			weight = step*t/2 + 2*t
		}
		for i := range e {
			for j := range i + 1 {
				for k := range j + 1 {
					e[i][j][k] += weight * b[i] * b[j] * b[k]
				}
			}
		}
	}
	return e
}

// scaledBessel returns exp(-x) I_n(x): by the recurrence downward (Miller), and for great
// x by Hankel's series (Abramowitz and Stegun 1964, 9.7.1).
func scaledBessel(x float64) (b [latticeSide + 1]float64) {
	if x > 1000 {
		for n := range b {
			term, sum := 1.0, 1.0
			for k := 1; k < 8; k++ {
				odd := float64(2*k - 1)
				term *= -(4*float64(n*n) - odd*odd) / (float64(k) * 8 * x)
				sum += term
			}
			b[n] = sum / math.Sqrt(2*math.Pi*x)
		}
		return b
	}
	above, here, sum := 0.0, 1e-300, 0.0
	for n := latticeSide + 40 + int(7*math.Sqrt(x)); n >= 0; n-- {
		if n <= latticeSide {
			b[n] = here
		}
		if sum += here; n > 0 {
			sum += here
		}
		above, here = here, above+2*float64(n)/x*here
		if here > 1e250 {
			above, here, sum = above*1e-250, here*1e-250, sum*1e-250
			for k := range b {
				b[k] *= 1e-250
			}
		}
	}
	for n := range b {
		b[n] /= sum
	}
	return b
}

// at returns the potential at a difference of indices.
func (e *endless) at(d [3]int) float64 {
	i, j, k := max(d[0], -d[0]), max(d[1], -d[1]), max(d[2], -d[2])
	i, j = max(i, j), min(i, j)
	j, k = max(j, k), min(j, k)
	i, j = max(i, j), min(i, j)
	if i <= latticeSide {
		return e[i][j][k]
	}
	return farOff(d)
}

// farOff is the same many spacings away.
// Duffin (1953), from memory: (1 + (5 sum x⁴/r⁴ - 3)/(8 r²)) / (4 pi r).
func farOff(d [3]int) float64 {
	x, y, z := float64(d[0]*d[0]), float64(d[1]*d[1]), float64(d[2]*d[2])
	r2 := x + y + z
	return (1 + (5*(x*x+y*y+z*z)/(r2*r2)-3)/(8*r2)) / (4 * math.Pi * math.Sqrt(r2))
}
