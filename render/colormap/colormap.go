// Package colormap holds the colours of the pictures: one sequence from little current
// to much, and the marks for wall that carries no figure.
//
// The sequence runs from rust brown through plum and slate to the pale blue of bright
// steel. It is half a turn of a helix in OKLab: lightness rises in proportion, hue turns
// at constant speed on a circle, so equal steps of the value are equal steps of colour by
// construction, on the screen, to a colour-blind eye and in a grey print alike.
package colormap

import (
	"image/color"
	"math"
)

// The helix in OKLab. Chosen by eye so that it stays inside sRGB from end to end.
const (
	darkest  = 0.30               // lightness of the least value
	lightest = 0.94               // lightness of the greatest
	centreA  = 0.010              // middle of the circle
	centreB  = 0.015              //
	radius   = 0.068              // of the circle
	start    = 30 * math.Pi / 180 // angle of the least value, towards red and yellow
	turn     = -math.Pi           // from least to greatest
)

// At returns the colour for t between 0 (little) and 1 (much); t outside is clamped.
func At(t float64) color.RGBA { return at(t).toLinear().rgba() }

func at(t float64) Lab {
	t = min(max(t, 0), 1)
	sin, cos := math.Sincos(start + turn*t)
	return Lab{darkest + (lightest-darkest)*t, centreA + radius*cos, centreB + radius*sin}
}

// Bands returns n colours, each from the middle of its share of the sequence: for a
// stepped scale.
func Bands(n int) []color.RGBA {
	out := make([]color.RGBA, n)
	for i := range out {
		out[i] = At((float64(i) + 0.5) / float64(n))
	}
	return out
}

// Mark names what a spot of wall is when the sequence has no colour for it.
type Mark int

const (
	Under     Mark = iota // a value below the scale
	Over                  // a value above the scale
	Dry                   // wall above the liquid
	Opening               // no wall: an opening
	Insulated             // closed by something that carries no current
	NoData                // wall without a value
)

// Marks lists every mark, in the order of a key.
func Marks() []Mark { return []Mark{Under, Over, Dry, Opening, Insulated, NoData} }

// Colour returns the mark's own colour, off the sequence.
func (m Mark) Colour() color.RGBA {
	switch m {
	case Under:
		return Lab{0.13, 0, 0}.toLinear().rgba()
	case Over:
		return Lab{0.96, -0.02, 0.14}.toLinear().rgba()
	case Dry:
		return Lab{0.86, 0.01, 0.05}.toLinear().rgba()
	case Opening:
		return color.RGBA{255, 255, 255, 255}
	case Insulated:
		return Lab{0.52, -0.05, 0.10}.toLinear().rgba()
	default:
		return Lab{0.75, 0.09, 0.12}.toLinear().rgba()
	}
}

// Tint returns a pale ground colour for t between 0 and 1, the more the darker: light
// enough to read lines and words on it, and unlike the sequence. Its steps are even, as it
// is a straight line in OKLab.
func Tint(t float64) color.RGBA {
	t = min(max(t, 0), 1)
	return Lab{0.985 - 0.21*t, 0.012 * t, 0.002 + 0.055*t}.toLinear().rgba()
}
