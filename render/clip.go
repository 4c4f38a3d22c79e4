package render

// clip cuts a convex outline at the rectangle (Sutherland and Hodgman 1974).
func clip(outline []point, r rect) []point {
	for _, edge := range []struct{ nx, ny, limit float64 }{
		{-1, 0, -r.x0}, {1, 0, r.x1}, {0, -1, -r.y0}, {0, 1, r.y1},
	} {
		beyond := func(p point) float64 { return edge.nx*p.x + edge.ny*p.y - edge.limit }
		var kept []point
		for i, p := range outline {
			q := outline[(i+1)%len(outline)]
			dp, dq := beyond(p), beyond(q)
			if dp <= 0 {
				kept = append(kept, p)
			}
			if (dp < 0 && dq > 0) || (dp > 0 && dq < 0) {
				kept = append(kept, p.lerp(q, dp/(dp-dq)))
			}
		}
		outline = kept
	}
	return outline
}

// clipLine cuts a line at a rectangle (Liang and Barsky 1984).
func clipLine(a, b point, r rect) (from, to point, ok bool) {
	t0, t1 := 0.0, 1.0
	way := b.sub(a)
	for _, edge := range [][2]float64{{-way.x, a.x - r.x0}, {way.x, r.x1 - a.x}, {-way.y, a.y - r.y0}, {way.y, r.y1 - a.y}} {
		p, q := edge[0], edge[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	from, to = a, b // an end within stays as it is, to the last bit
	if t0 > 0 {
		from = a.lerp(b, t0)
	}
	if t1 < 1 {
		to = a.lerp(b, t1)
	}
	return from, to, true
}
