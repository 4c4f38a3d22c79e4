package colormap

import "image/color"

// The two arms of the ratio's colours in OKLab, from grey where both are alike: to dark blue
// where the second is less, to bright yellow where it is more. Lightness rises from end to
// end, so that a grey print and a colour-blind eye tell the two arms apart. Chosen by eye.
var (
	alike = Lab{0.66, 0, 0}
	less  = Lab{0.34, -0.02, -0.14}
	more  = Lab{0.90, -0.015, 0.14}
)

// Ratio returns the colour for t between -1, the second far less than the first, and 1, far
// more; 0 is alike, and t outside is clamped.
func Ratio(t float64) color.RGBA { return ratio(t).toLinear().rgba() }

func ratio(t float64) Lab {
	t = min(max(t, -1), 1)
	end, share := more, t
	if t < 0 {
		end, share = less, -t
	}
	return Lab{alike.L + (end.L-alike.L)*share, alike.A + (end.A-alike.A)*share, alike.B + (end.B-alike.B)*share}
}

// RatioEnds returns the colours of ratios below and above the scale.
func RatioEnds() (below, above color.RGBA) {
	return Lab{0.20, 0, -0.06}.toLinear().rgba(), Lab{0.975, -0.05, 0.09}.toLinear().rgba()
}
