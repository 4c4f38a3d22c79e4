package geometry

import "math"

// Split halves t across its longest edge until no edge is longer than limit, m, and calls
// visit with every part. The parts wind as t does.
func (t Triangle) Split(limit float64, visit func(Triangle)) {
	a, b, c := t.A.Dist(t.B), t.B.Dist(t.C), t.C.Dist(t.A)
	longest := math.Max(a, math.Max(b, c))
	switch {
	case longest <= limit:
		visit(t)
		return
	case b == longest:
		t = Triangle{A: t.B, B: t.C, C: t.A}
	case c == longest:
		t = Triangle{A: t.C, B: t.A, C: t.B}
	}
	m := t.A.Lerp(t.B, 0.5)
	Triangle{A: t.A, B: m, C: t.C}.Split(limit, visit)
	Triangle{A: m, B: t.B, C: t.C}.Split(limit, visit)
}
