package render

import (
	"fmt"
	"image/color"
	"math"
	"sort"
	"strconv"

	"evenwall/render/colormap"
)

// Scale is the range that the colours of current density span, on a logarithmic scale.
// Values outside have colours of their own. The zero value stands for a range chosen
// from the surface.
type Scale struct{ Low, High float64 } // A/m²

// ScaleFor returns a range with round ends for all the surfaces together: from the
// 1st to the 99.5th percentile of wetted area, over one decade at least and four at most,
// counted from the top. Use it to give pictures that are compared one scale.
func ScaleFor(surfaces ...Surface) Scale {
	const lowShare, highShare, decades = 0.01, 0.995, 4
	var samples []weighted
	for k := range surfaces {
		samples = append(samples, surfaces[k].wettedSamples()...)
	}
	if len(samples) == 0 {
		return Scale{Low: 0.1, High: 10}
	}
	sort.Slice(samples, func(i, k int) bool { return samples[i].value < samples[k].value })
	high := roundUp(percentile(samples, highShare))
	low := roundDown(max(percentile(samples, lowShare), high*math.Pow(10, -decades)))
	return Scale{Low: min(low, high/10), High: high}
}

// weighted is a figure of one facet with the facet's area as its weight.
type weighted struct{ value, area float64 }

// wettedSamples lists the positive figures of wetted wall.
func (s *Surface) wettedSamples() []weighted {
	var out []weighted
	for i := range s.Mesh.Faces {
		if v := s.value(i); s.state(i) == Wetted && v > 0 {
			out = append(out, weighted{v, s.Mesh.Triangle(i).Area()})
		}
	}
	return out
}

// percentile returns the least value such that samples up to it, sorted, hold at least
// the share q of the weight.
func percentile(sorted []weighted, q float64) float64 {
	total, sum := 0.0, 0.0
	for _, s := range sorted {
		total += s.area
	}
	for _, s := range sorted {
		if sum += s.area; sum >= q*total {
			return s.value
		}
	}
	return sorted[len(sorted)-1].value
}

// roundUp returns the least of 1, 2, 5 times a power of ten that is not below v.
func roundUp(v float64) float64 {
	for e := int(math.Floor(math.Log10(v))) - 1; ; e++ {
		for _, m := range []float64{1, 2, 5} {
			if r := decimal(m, e); r >= v*(1-1e-9) {
				return r
			}
		}
	}
}

// roundDown returns the greatest of 1, 2, 5 times a power of ten that is not above v.
func roundDown(v float64) float64 {
	for e := int(math.Floor(math.Log10(v))) + 1; ; e-- {
		for _, m := range []float64{5, 2, 1} {
			if r := decimal(m, e); r <= v*(1+1e-9) {
				return r
			}
		}
	}
}

// decimal returns m·10^e as the nearest float to the decimal number.
func decimal(m float64, e int) float64 {
	if e < 0 {
		return m / math.Pow(10, float64(-e))
	}
	return m * math.Pow(10, float64(e))
}

// bands is a scale cut into steps at round numbers.
type bands struct {
	edges  []float64 // A/m², ascending, one more than colours
	logs   []float64 // log10 of the edges
	colour []color.RGBA
	under  color.RGBA
	over   color.RGBA
}

// bands cuts the scale at the finest round numbers that give at most twelve steps.
func (s Scale) bands() bands {
	const most = 12
	var edges []float64
	for _, marks := range [][]float64{{1, 1.5, 2, 3, 4, 5, 6, 8}, {1, 1.5, 2, 3, 5, 7}, {1, 2, 3, 5}, {1, 2, 5}, {1, 3}, {1}} {
		if edges = s.cut(marks); len(edges) <= most+1 {
			break
		}
	}
	b := bands{edges: edges, colour: colormap.Bands(len(edges) - 1), under: colormap.Under.Colour(), over: colormap.Over.Colour()}
	for _, e := range edges {
		b.logs = append(b.logs, math.Log10(e))
	}
	return b
}

// cut returns the ends of the scale and the marked multiples of powers of ten between.
func (s Scale) cut(marks []float64) []float64 {
	edges := []float64{s.Low}
	for e := int(math.Floor(math.Log10(s.Low))); e <= int(math.Ceil(math.Log10(s.High))); e++ {
		for _, m := range marks {
			if v := decimal(m, e); v > s.Low*1.001 && v < s.High*0.999 {
				edges = append(edges, v)
			}
		}
	}
	return append(edges, s.High)
}

// valid reports whether the scale has a range to draw.
func (s Scale) valid() bool {
	return s.Low > 0 && s.High > s.Low && !math.IsInf(s.High, 0)
}

// at returns the colour for a value by its logarithm to base ten.
func (b *bands) at(log float64) color.RGBA {
	n := len(b.colour)
	switch {
	case log < b.logs[0]:
		return b.under
	case log > b.logs[n]:
		return b.over
	}
	i := sort.SearchFloat64s(b.logs, log)
	return b.colour[min(max(i-1, 0), n-1)]
}

// traces is what a figure is not told apart from nothing below.
const traces = 1e-4

// figure prints a value with two or three significant digits and no exponent.
func figure(v float64) string {
	if v == 0 || math.IsNaN(v) {
		return "0"
	}
	if math.Abs(v) < traces {
		return fmt.Sprintf("under %g", traces)
	}
	digits := 2
	if math.Abs(v) >= 100 {
		digits = 3
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
