package field

import (
	"math"

	"evenwall/geometry"
)

// bipolar is the exact field between a rod at 1 V and an eccentric shell with a film. In
// bipolar coordinates (sigma, tau) with foci at ±c the circles are tau = inner and
// tau = outer, the potential is
//
//	1 + k0 (tau − inner) + sum over n of k[n] sinh(n (tau − inner)) cos(n sigma),
//
// and the film's law, potential = film · kappa · (cosh tau − cos sigma)/c · d/dtau on the
// shell, couples each n to its neighbours only: a tridiagonal system. Derived here.
type bipolar struct {
	c, inner, outer float64
	centre          float64   // of the shell, x in the frame of the foci, m
	k               []float64 // k[0] is k0; k[n] times sinh(n (outer − inner))
}

// newBipolar solves for the cell's sizes; its offset must be above zero.
func newBipolar(cl cell) *bipolar {
	a, b, e := rodRadius, shellRadius, cl.offset
	x := (b*b - a*a + e*e) / (2 * e)
	c := math.Sqrt(x*x - b*b)
	s := &bipolar{c: c, inner: math.Asinh(c / a), outer: math.Asinh(c / b), centre: x}
	s.solve(cl.film * cellKappa / c)
	return s
}

// solve finds the coefficients; film is in lengths of c. With T = outer − inner (below
// zero) the n-th term is u[n] on the shell and its derivative u[n]·n·coth(nT), and
// film·(cosh outer − cos sigma)·d/dtau = potential gives, term by term in cos(n sigma), the
// rows below; the zeroth has u[0] = k0·T and derivative u[0]/T.
func (s *bipolar) solve(film float64) {
	const terms = 200
	span, ch := s.outer-s.inner, math.Cosh(s.outer)
	slope := func(n int) float64 {
		if n == 0 {
			return 1 / span
		}
		return float64(n) / math.Tanh(float64(n)*span)
	}
	low, mid, up, rhs := make([]float64, terms), make([]float64, terms), make([]float64, terms), make([]float64, terms)
	rhs[0] = 1 // of the constant potential of the rod
	for n := range terms {
		mid[n] = film*ch*slope(n) - 1
		if n > 0 {
			low[n] = -film * slope(n-1) / 2
			if n == 1 {
				low[n] = -film * slope(0)
			}
		}
		up[n] = -film * slope(n+1) / 2
	}
	for n := 1; n < terms; n++ { // Thomas's elimination
		f := low[n] / mid[n-1]
		mid[n] -= f * up[n-1]
		rhs[n] -= f * rhs[n-1]
	}
	u := make([]float64, terms)
	for n := terms - 1; n >= 0; n-- {
		u[n] = rhs[n] / mid[n]
		if n+1 < terms {
			u[n] -= up[n] * u[n+1] / mid[n]
		}
	}
	u[0] /= span
	s.k = u
}

// at returns the bipolar coordinates of a point of the cell's frame: shell about the axis,
// rod towards +x.
func (s *bipolar) at(p geometry.Vec) (sigma, tau float64) {
	x, y := s.centre-p.X, p.Y // the rod stands nearer to the focus
	tau = 0.5 * math.Log(((x+s.c)*(x+s.c)+y*y)/((x-s.c)*(x-s.c)+y*y))
	sigma = math.Atan2(2*s.c*y, x*x+y*y-s.c*s.c)
	return sigma, tau
}

// potential returns the exact potential, V.
func (s *bipolar) potential(p geometry.Vec) float64 {
	sigma, tau := s.at(p)
	v, span := 1+s.k[0]*(tau-s.inner), s.outer-s.inner
	for n := 1; n < len(s.k); n++ {
		ratio := math.Exp(-float64(n)*(tau-s.outer)) * (1 - math.Exp(-2*float64(n)*(s.inner-tau))) / (1 - math.Exp(2*float64(n)*span))
		v += s.k[n] * ratio * math.Cos(float64(n)*sigma)
	}
	return v
}

// perVolt returns the exact current per metre and volt: every term but the zeroth sums to
// nothing round the rod.
func (s *bipolar) perVolt() float64 { return 2 * math.Pi * cellKappa * s.k[0] }
