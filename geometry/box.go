package geometry

import "math"

// Box is an axis-aligned box, closed on all sides. An empty box has Min above Max;
// EmptyBox returns it. The zero value is the single point at the origin.
type Box struct{ Min, Max Vec }

// EmptyBox returns the box that contains nothing and leaves any other unchanged in Union.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// BoxOf returns the smallest box around the points.
func BoxOf(points ...Vec) Box {
	b := EmptyBox()
	for _, p := range points {
		b = b.Include(p)
	}
	return b
}

// IsEmpty reports whether b contains no point.
func (b Box) IsEmpty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y || b.Min.Z > b.Max.Z }

// Include returns b grown to contain p.
func (b Box) Include(p Vec) Box {
	return Box{
		Vec{min(b.Min.X, p.X), min(b.Min.Y, p.Y), min(b.Min.Z, p.Z)},
		Vec{max(b.Max.X, p.X), max(b.Max.Y, p.Y), max(b.Max.Z, p.Z)},
	}
}

// Union returns the smallest box that contains both.
func (b Box) Union(c Box) Box {
	if c.IsEmpty() {
		return b
	}
	return b.Include(c.Min).Include(c.Max)
}

// Grow returns b with every side moved outward by d metres.
func (b Box) Grow(d float64) Box {
	return Box{b.Min.Sub(Vec{d, d, d}), b.Max.Add(Vec{d, d, d})}
}

// Contains reports whether p lies in b, its sides included.
func (b Box) Contains(p Vec) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y && p.Z >= b.Min.Z && p.Z <= b.Max.Z
}

// Overlaps reports whether b and c share a point.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X <= c.Max.X && b.Max.X >= c.Min.X && b.Min.Y <= c.Max.Y && b.Max.Y >= c.Min.Y &&
		b.Min.Z <= c.Max.Z && b.Max.Z >= c.Min.Z
}

// Size returns the lengths of the sides, m.
func (b Box) Size() Vec { return b.Max.Sub(b.Min) }

// Centre returns the middle of b.
func (b Box) Centre() Vec { return b.Min.Lerp(b.Max, 0.5) }

// Dist2 returns the square of the distance from p to b, m²; 0 inside.
func (b Box) Dist2(p Vec) float64 {
	dx := math.Max(0, math.Max(b.Min.X-p.X, p.X-b.Max.X))
	dy := math.Max(0, math.Max(b.Min.Y-p.Y, p.Y-b.Max.Y))
	dz := math.Max(0, math.Max(b.Min.Z-p.Z, p.Z-b.Max.Z))
	return dx*dx + dy*dy + dz*dz
}
