package station

import "math"

// Law is how the wall's change goes with current density. No one knows which holds for a
// given rust: three are kept, so that hours come as a band. The zero value is the one
// that layouts are ranked by.
type Law int

const (
	// Threshold counts charge between the aim's least and most only.
	Threshold Law = iota
	// AsGiven counts all charge alike.
	AsGiven
	// Root counts the square root of current density, scaled to agree with AsGiven at the
	// geometric mean of the aim's least and most. Common practice, no source.
	Root
)

// Laws lists the three laws, the ranking one first.
func Laws() []Law { return []Law{Threshold, AsGiven, Root} }

// String returns the law in words.
func (l Law) String() string {
	switch l {
	case Threshold:
		return "charge with threshold and ceiling"
	case AsGiven:
		return "charge as given"
	case Root:
		return "square root of current density"
	default:
		return "unknown law"
	}
}

// Rate returns the working rate at current density j under the law, A/m²; never negative.
func (l Law) Rate(a Aim, j float64) float64 {
	switch {
	case !(j > 0):
		return 0
	case l == AsGiven:
		return j
	case l == Root:
		return math.Sqrt(j * math.Sqrt(a.Least*a.Most))
	default:
		return a.Rate(j)
	}
}

// Rates returns the working rate of every patch, A/m².
func (l Law) Rates(a Aim, j []float64) []float64 {
	rates := make([]float64, len(j))
	for i, v := range j {
		rates[i] = l.Rate(a, v)
	}
	return rates
}
