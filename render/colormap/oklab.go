package colormap

import (
	"image/color"
	"math"
)

// Lab is a colour in the OKLab space: equal distances look about equally large.
// Ottosson (2020), "A perceptual color space for image processing".
type Lab struct {
	L float64 // lightness: 0 black, 1 white
	A float64 // green (below 0) to red
	B float64 // blue (below 0) to yellow
}

// Distance returns the length of the straight line between two colours.
func (c Lab) Distance(d Lab) float64 {
	return math.Sqrt((c.L-d.L)*(c.L-d.L) + (c.A-d.A)*(c.A-d.A) + (c.B-d.B)*(c.B-d.B))
}

// linear holds linear-light sRGB, 0 to 1 within the screen's gamut.
type linear [3]float64

// toLinear follows Ottosson (2020), the inverse matrices.
func (c Lab) toLinear() linear {
	l := cube(c.L + 0.3963377774*c.A + 0.2158037573*c.B)
	m := cube(c.L - 0.1055613458*c.A - 0.0638541728*c.B)
	s := cube(c.L - 0.0894841775*c.A - 1.2914855480*c.B)
	return linear{
		+4.0767416621*l - 3.3077115913*m + 0.2309699292*s,
		-1.2684380046*l + 2.6097574011*m - 0.3413193965*s,
		-0.0041960863*l - 0.7034186147*m + 1.7076147010*s,
	}
}

// toLab follows Ottosson (2020), M1 and M2 of linear sRGB.
func (r linear) toLab() Lab {
	l := math.Cbrt(0.4122214708*r[0] + 0.5363325363*r[1] + 0.0514459929*r[2])
	m := math.Cbrt(0.2119034982*r[0] + 0.6806995451*r[1] + 0.1073969566*r[2])
	s := math.Cbrt(0.0883024619*r[0] + 0.2817188376*r[1] + 0.6299787005*r[2])
	return Lab{
		L: 0.2104542553*l + 0.7936177850*m - 0.0040720468*s,
		A: 1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
		B: 0.0259040371*l + 0.7827717662*m - 0.8086757660*s,
	}
}

// inGamut reports whether a screen can show r.
func (r linear) inGamut() bool {
	const rounding = 0.5 / 255 / 12.92 // half a step of the darkest 8-bit values
	for _, v := range r {
		if v < -rounding || v > 1+rounding {
			return false
		}
	}
	return true
}

// rgba encodes r for the screen; what lies outside its gamut is clipped.
func (r linear) rgba() color.RGBA {
	return color.RGBA{encode(r[0]), encode(r[1]), encode(r[2]), 255}
}

// decode turns an opaque screen colour into linear light.
func decode(c color.RGBA) linear {
	return linear{decodeChannel(c.R), decodeChannel(c.G), decodeChannel(c.B)}
}

// encode applies the sRGB transfer curve, IEC 61966-2-1. It returns the channel whose light is nearest to v in value: by the lights from which each
// channel on is meant, since a power for every channel of every pixel takes as long as a picture.
func encode(v float64) uint8 {
	v = min(max(v, 0), 1)
	c := int(channelAt[int(v*float64(len(channelAt)-1))])
	for c < 255 && v >= lightFrom[c+1] {
		c++
	}
	return uint8(c)
}

// lightFrom is the least light of each channel, and channelAt the channel at evenly spaced lights.
var lightFrom, channelAt = func() (from [256]float64, at [1025]uint8) {
	for c := 1; c < 256; c++ {
		from[c] = light((float64(c) - 0.5) / 255)
	}
	c := 0
	for i := range at {
		for c < 255 && float64(i)/float64(len(at)-1) >= from[c+1] {
			c++
		}
		at[i] = uint8(c)
	}
	return from, at
}()

func decodeChannel(c uint8) float64 { return light(float64(c) / 255) }

// light returns the linear light of a channel's value from 0 to 1.
func light(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func cube(v float64) float64 { return v * v * v }

// ToLab returns the OKLab coordinates of an opaque screen colour.
func ToLab(c color.RGBA) Lab { return decode(c).toLab() }
