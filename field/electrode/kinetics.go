package electrode

import "math"

// Sinh is the kinetics of a single step that runs as easily forward as back:
// j = 2 · Exchange · sinh(ln(10) · overpotential / Slope). At large j a decade of current
// costs Slope volts; below about 2 · Exchange the law is linear.
type Sinh struct {
	Exchange float64 // A/m², above 0
	Slope    float64 // V per decade, above 0
}

// Drop implements Law.
func (s Sinh) Drop(j float64) (volts, slope float64) {
	beta := s.Slope / math.Ln10
	x := j / (2 * s.Exchange)
	if size := math.Abs(x); size > logFrom && size < logTo { // the same in half the time
		root := math.Sqrt(1 + x*x)
		return math.Copysign(beta*math.Log(size+root), j), beta / (2 * s.Exchange * root)
	}
	return beta * math.Asinh(x), beta / (2 * s.Exchange * math.Hypot(1, x))
}

// logFrom and logTo are where asinh is taken by its logarithm: from where 1 + x has lost no more
// than the last two digits of x to where the square of x would be too large.
const logFrom, logTo = 0.05, 1e100

// Tafel is volts = Slope · log10(j / Exchange), which has no end as j goes to 0. Below
// e · Exchange it is continued by the straight line through rest that touches the curve
// there (at Slope / ln(10) volts), so the law stays finite, odd and without a corner, and
// is Tafel's own above.
type Tafel struct {
	Exchange float64 // A/m², above 0
	Slope    float64 // V per decade, above 0
}

// TafelThrough returns the Tafel law with the given slope, V per decade, that loses volts
// at j, A/m²: the form in which practical values are quoted.
func TafelThrough(j, volts, slope float64) Tafel {
	return Tafel{Exchange: j * math.Pow(10, -volts/slope), Slope: slope}
}

// Drop implements Law.
func (t Tafel) Drop(j float64) (volts, slope float64) {
	beta := t.Slope / math.Ln10
	touch := math.E * t.Exchange
	size := math.Abs(j)
	if size <= touch {
		return beta * j / touch, beta / touch
	}
	// The logarithms are taken apart: their quotient may not fit a float64.
	return math.Copysign(beta*(math.Log(size)-math.Log(t.Exchange)), j), beta / size
}

// TwoSlope is the oxygen law: Tafel's with one slope below a knee and another above it,
// continued to rest as Tafel is. Drop has a corner at the knee and no jump.
type TwoSlope struct {
	Knee   float64 // A/m², above 0
	AtKnee float64 // V lost at the knee
	Below  float64 // V per decade under the knee
	Above  float64 // V per decade over it
}

// Drop implements Law.
func (t TwoSlope) Drop(j float64) (volts, slope float64) {
	size := math.Abs(j)
	if size <= t.Knee {
		return TafelThrough(t.Knee, t.AtKnee, t.Below).Drop(j)
	}
	beta := t.Above / math.Ln10
	return math.Copysign(t.AtKnee+beta*math.Log(size/t.Knee), j), beta / size
}
