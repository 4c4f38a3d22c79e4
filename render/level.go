package render

import (
	"math"
	"slices"
)

// level draws the liquid's surface between the walls.
func (d *sectionSheet) level() {
	longest := [2]point{}
	for _, l := range d.levelLines() {
		d.line(l[:], pen{width: 4, colour: liquidColour})
		if l[1].sub(l[0]).norm() > longest[1].sub(longest[0]).norm() {
			longest = l
		}
	}
	if mark := longest[0].lerp(longest[1], 0.85); longest[0] != longest[1] {
		d.fill([]point{mark.add(point{0, -3}), mark.add(point{-11, -21}), mark.add(point{11, -21})}, liquidColour)
	}
}

// levelLines returns where the liquid's surface is in sight between the walls.
func (d *sectionSheet) levelLines() [][2]point {
	liquid := d.scene.Liquid
	n := liquid.Normal.Unit()
	slopeV := n.Dot(d.scene.Cut.V)
	if math.Abs(slopeV) < 1e-6 {
		return nil
	}
	height := func(x float64) point {
		// The plane's v at this u: linear along the picture.
		p := d.plate.back(point{x, d.frame.y0}, 0)
		return d.plate.at(p.AddScaled(d.scene.Cut.V, -liquid.Height(p)/slopeV))
	}
	a, b := height(d.frame.x0), height(d.frame.x1)
	cuts := []float64{0}
	for _, s := range d.wall {
		if t, ok := meet(a, b, s.a, s.b); ok {
			cuts = append(cuts, t)
		}
	}
	slices.Sort(cuts)
	var out [][2]point
	for k := 1; k < len(cuts); k++ {
		p, q := a.lerp(b, cuts[k-1]), a.lerp(b, cuts[k])
		if p != q && d.mask.has(p.lerp(q, 0.5)) {
			out = append(out, [2]point{p, q})
		}
	}
	return out
}

// meet returns how far along a-b the stretch c-d crosses it.
func meet(a, b, c, d point) (t float64, ok bool) {
	ab, cd, ac := b.sub(a), d.sub(c), c.sub(a)
	det := ab.x*cd.y - ab.y*cd.x
	if det == 0 {
		return 0, false
	}
	t = (ac.x*cd.y - ac.y*cd.x) / det
	u := (ac.x*ab.y - ac.y*ab.x) / det
	return t, u >= 0 && u < 1 && t >= 0 && t <= 1
}
