package render

import (
	"image/color"
	"math"
)

// spot is where a patch's number may stand on a panel.
type spot struct {
	patch int
	panel int
	at    point   // deepest inside the patch, layout units
	room  float64 // distance from there to the patch's edge, layout units
	other []place // further places with room for a number
	area  float64 // of the patch in sight on this panel, square layout units
	frame rect    // the panel's picture
}

// place is a point on a patch and how far its edge is, layout units.
type place struct {
	at   point
	room float64
}

// spots finds, for each patch in sight, the place on the panel deepest inside it.
func (p *wallPaint) spots(b *buffer, panel int, frame rect) []spot {
	const coarse = 2 * fine // samples per step of the search
	w, h := b.w/coarse, b.h/coarse
	if w == 0 || h == 0 {
		return nil
	}
	number := func(x, y int) int16 {
		if x < 0 || y < 0 || x >= w || y >= h {
			return 0
		}
		if f := b.face[y*coarse*b.w+x*coarse]; f != nothing {
			return p.patch[f]
		}
		return 0
	}
	inward := insideDistance(w, h, number)
	step := coarse / fine / p.unit // layout units
	best := map[int16]*spot{}
	var order []int16
	for y := range h {
		for x := range w {
			n := number(x, y)
			if n == 0 {
				continue
			}
			s := best[n]
			if s == nil {
				s = &spot{patch: int(n), panel: panel, frame: frame}
				best[n], order = s, append(order, n)
			}
			s.area += step * step
			here := place{point{frame.x0 + (float64(x)+0.5)*step, frame.y0 + (float64(y)+0.5)*step}, inward[y*w+x] * step}
			if here.room > s.room {
				s.room, s.at = here.room, here.at
			}
			const apart = 6 // steps between further places
			if x%apart == 0 && y%apart == 0 && here.room >= numberRadius {
				s.other = append(s.other, here)
			}
		}
	}
	var out []spot
	for _, n := range order {
		out = append(out, *best[n])
	}
	return out
}

// insideDistance returns for each grid point of a patch about how far it is to the next
// point of another number, in grid steps (two-pass chamfer 1, √2; Borgefors 1986).
func insideDistance(w, h int, number func(x, y int) int16) []float64 {
	d := make([]float64, w*h)
	relax := func(x, y, dx, dy int) {
		i, far := y*w+x, 0.0
		if n := number(x, y); n == number(x+dx, y+dy) && x+dx >= 0 && x+dx < w && y+dy >= 0 && y+dy < h {
			far = d[(y+dy)*w+x+dx]
		}
		d[i] = min(d[i], far+math.Hypot(float64(dx), float64(dy)))
	}
	for y := range h {
		for x := range w {
			if number(x, y) == 0 {
				continue
			}
			d[y*w+x] = math.Inf(1)
			for _, n := range [4][2]int{{-1, 0}, {-1, -1}, {0, -1}, {1, -1}} {
				relax(x, y, n[0], n[1])
			}
		}
	}
	for y := h - 1; y >= 0; y-- {
		for x := w - 1; x >= 0; x-- {
			if number(x, y) == 0 {
				continue
			}
			for _, n := range [4][2]int{{1, 0}, {1, 1}, {0, 1}, {-1, 1}} {
				relax(x, y, n[0], n[1])
			}
		}
	}
	return d
}

// numbers writes each patch's number wherever a good part of it is in sight, beside the
// patch with a pointer where it is too small to carry it.
func (w *wallSheet) numbers() {
	const goodPart = 0.3 // of what the best panel shows
	most := map[int]float64{}
	for _, s := range w.spots {
		most[s.patch] = max(most[s.patch], s.area)
	}
	taken := w.taken
	for _, t := range w.texts {
		taken = append(taken, t.box)
	}
	for _, s := range w.spots {
		if s.area < goodPart*most[s.patch] {
			continue
		}
		at, beside := s.free(taken)
		if beside {
			w.line([]point{at, s.at}, pen{width: 6, colour: color.White})
			w.line([]point{at, s.at}, pen{width: 3, colour: color.Black})
			w.disc(s.at, 4, color.Black, pen{width: 1.5, colour: color.White})
		}
		w.number(s.patch, at)
		taken = append(taken, around(at, numberRadius+2, numberRadius+2))
	}
}

// free returns a place for the number: on the patch where there is room, else beside it,
// within the panel and off what is taken.
func (s *spot) free(taken []rect) (at point, beside bool) {
	clear := func(p point) bool {
		box := around(p, numberRadius+2, numberRadius+2)
		for _, t := range taken {
			if t.overlaps(box) {
				return false
			}
		}
		return s.frame.grow(-numberRadius).contains(p)
	}
	best := place{s.at, s.room}
	if !clear(s.at) {
		best.room = 0
		for _, o := range s.other {
			if o.room > best.room && clear(o.at) {
				best = o
			}
		}
	}
	if best.room >= numberRadius {
		return best.at, false
	}
	for _, reach := range []float64{2.2, 3, 4, 5, 6} {
		for k := range 16 {
			sin, cos := math.Sincos(float64(k)*math.Pi/8 - math.Pi/2)
			if p := s.at.add(point{cos, sin}.times(reach * numberRadius)); clear(p) {
				return p, true
			}
		}
	}
	return s.at, false
}
