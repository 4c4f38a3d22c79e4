package vessel

import "evenwall/geometry"

// inside answers how much of the tank lies below a level, from nothing but each facet's
// heights and the upward share of its area: the divergence theorem for the field
// (height − level) · up, which is zero on the level itself, so that no cap is needed.
type inside struct {
	facets []insideFacet
	whole  float64 // m³
	high   float64 // height of the highest inside point above the lowest, m
}

type insideFacet struct {
	low, middle, high float64 // of the corners, m above the lowest inside point
	up                float64 // upward component of the outward area vector, m²
}

func insideOf(v *Vessel) inside {
	in := inside{facets: make([]insideFacet, 0, len(v.Shell.Faces)+len(v.lids))}
	for i := range v.Shell.Faces {
		in.add(v, v.Shell.Triangle(i))
	}
	for _, t := range v.lids {
		in.add(v, t)
	}
	in.whole = in.below(in.high)
	return in
}

func (in *inside) add(v *Vessel, t geometry.Triangle) {
	f := insideFacet{v.Height(t.A), v.Height(t.B), v.Height(t.C), v.Up.Dot(t.AreaVector())}
	if f.low > f.middle {
		f.low, f.middle = f.middle, f.low
	}
	if f.middle > f.high {
		f.middle, f.high = f.high, f.middle
	}
	if f.low > f.middle {
		f.low, f.middle = f.middle, f.low
	}
	in.high = max(in.high, f.high)
	in.facets = append(in.facets, f)
}

// below returns the volume under the level, m³; height is above the lowest inside point.
func (in *inside) below(height float64) float64 {
	sum := 0.0
	for i := range in.facets {
		sum += in.facets[i].below(height)
	}
	return sum
}

// below returns the upward area under the level times its mean height over it, m³. What
// a level cuts off a triangle is similar to a part of it: shares of area are products of
// shares of sides.
func (f *insideFacet) below(height float64) float64 {
	a, b, c := f.low-height, f.middle-height, f.high-height
	switch {
	case a >= 0:
		return 0
	case c <= 0:
		return f.up * (a + b + c) / 3
	case b <= 0:
		return f.up * ((a+b+c)/3 - c/(c-a)*c/(c-b)*c/3)
	default:
		return f.up * a / (a - b) * a / (a - c) * a / 3
	}
}

// heightOf returns the height to which a volume between 0 and the whole reaches. The
// volume rises steadily with height, so the root is kept between two bounds that close in
// by false position (Illinois variant) or, failing that, by halves.
func (in *inside) heightOf(volume float64) float64 {
	low, high := 0.0, in.high
	atLow, atHigh := -volume, in.whole-volume
	for side := 0; high-low > 1e-12*in.high; {
		h := low + (high-low)*atLow/(atLow-atHigh)
		if !(h > low && h < high) {
			h = (low + high) / 2
		}
		at := in.below(h) - volume
		switch {
		case at == 0 || h == low || h == high:
			return h
		case at < 0:
			low, atLow = h, at
			if side < 0 {
				atHigh /= 2
			}
			side = -1
		default:
			high, atHigh = h, at
			if side > 0 {
				atLow /= 2
			}
			side = 1
		}
	}
	return (low + high) / 2
}
