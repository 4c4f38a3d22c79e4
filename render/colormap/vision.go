package colormap

import "image/color"

// Vision names how an eye sees colours.
type Vision int

const (
	Usual        Vision = iota // three kinds of cone
	Protanopia                 // without the long-wave cones
	Deuteranopia               // without the middle-wave cones
	Tritanopia                 // without the short-wave cones
	Grey                       // a black-and-white print
)

// Seen returns c as it looks to v. The first three defects follow Machado, Oliveira
// and Fernandes (2009), table 1, severity 1.0, applied to linear light; Grey keeps the
// relative luminance of IEC 61966-2-1.
func Seen(c color.RGBA, v Vision) color.RGBA {
	m := matrix(v)
	in := decode(c)
	var out linear
	for i := range out {
		out[i] = m[i][0]*in[0] + m[i][1]*in[1] + m[i][2]*in[2]
	}
	return out.rgba()
}

func matrix(v Vision) [3]linear {
	switch v {
	case Protanopia:
		return [3]linear{
			{0.152286, 1.052583, -0.204868},
			{0.114503, 0.786281, 0.099216},
			{-0.003882, -0.048116, 1.051998},
		}
	case Deuteranopia:
		return [3]linear{
			{0.367322, 0.860646, -0.227968},
			{0.280085, 0.672501, 0.047413},
			{-0.011820, 0.042940, 0.968881},
		}
	case Tritanopia:
		return [3]linear{
			{1.255528, -0.076749, -0.178779},
			{-0.078411, 0.930809, 0.147602},
			{0.004733, 0.691367, 0.303900},
		}
	case Grey:
		luminance := linear{0.2126, 0.7152, 0.0722}
		return [3]linear{luminance, luminance, luminance}
	default:
		return [3]linear{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	}
}
