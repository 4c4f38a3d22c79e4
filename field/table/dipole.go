package table

import (
	"math"

	"evenwall/geometry"
)

// dipole is one in the liquid, A m.
type dipole struct {
	at, moment geometry.Vec
	back       geometry.Vec // the part that its own rod's metal feels besides what the stretch's matrix holds
	stretch    int          // whose it is; -1: of plastic
	rod        int
}

// turn reckons with the dipoles of the rods. A length of bare metal answers the slope of the
// potential across it as a conducting cylinder does, which moves its current toward where
// the potential falls; plastic turns current aside as an insulating one does. The walls see
// and answer the dipoles where they are.
func (c *cell) turn() {
	w, step := c.work, c.table.boxes.step
	potential := c.potential()
	c.moved = make([]float32, len(w.nodes))
	dipoles := make([]dipole, 0, len(w.stands))
	for i := range w.stands {
		s := &w.stands[i]
		slope := w.slopeOf(s, potential).Scale(1 / step)
		var d dipole
		if i < len(c.points) {
			d = c.metal(i, slope)
		} else {
			d = c.insulating(&c.plastic[i-len(c.points)], slope)
		}
		w.spread(s, d.moment.Scale(1/step), c.moved)
		dipoles = append(dipoles, d)
	}
	for i := range c.points {
		v := 0.0
		for n, m := range c.moved {
			v += float64(w.felt[i*len(w.nodes)+n] * m)
		}
		c.emf[i] += (v + c.fromDipoles(i, dipoles)) / c.table.settings.Conductivity
	}
}

// potential returns kappa times the regular part's potential at the layout's nodes, A/m.
func (c *cell) potential() []float32 {
	w := c.work
	out := make([]float32, len(w.nodes))
	if c.bias != nil {
		for k, v := range c.bias.atNode {
			out[k] = float32(c.table.settings.Conductivity) * v
		}
	}
	for i, q := range c.q {
		for n, v := range w.felt[i*len(w.nodes) : (i+1)*len(w.nodes)] {
			out[n] += v * float32(q)
		}
	}
	return out
}

// metal returns the dipole of a point's length of rod, slope being kappa times the regular
// part's, A/m².
func (c *cell) metal(i int, slope geometry.Vec) dipole {
	p := &c.points[i]
	slope = slope.Add(c.slopeAt(p.at, p.radius, func(q *point) (own, image bool) { return q.stretch == p.stretch, false }))
	across := slope.AddScaled(p.axis, -slope.Dot(p.axis))
	m := across.Scale(-c.answer(i))
	return dipole{at: p.at, moment: m, back: m, stretch: p.stretch, rod: c.stretches[p.stretch].rod}
}

// insulating returns the dipole of a tube. Beside bare metal of its rod the stretch's points
// stand for what it makes of their own field.
func (c *cell) insulating(k *tube, slope geometry.Vec) dipole {
	ofOwn := func(q *point) (own, image bool) { mine := c.stretches[q.stretch].rod == k.rod; return mine, mine }
	d := dipole{at: k.at, stretch: -1, rod: k.rod}
	others := k.turns(slope.Add(c.slopeAt(k.at, k.radius, ofOwn)))
	if k.beside {
		d.moment = others
		return d
	}
	d.back = others
	d.moment = k.turns(slope.Add(c.slopeAt(k.at, k.radius, func(*point) (own, image bool) { return false, false })))
	return d
}

// turns returns the dipole of an insulating tube by kappa times the slope: pi R² a metre
// along it and twice that across, against what metal does.
func (k *tube) turns(slope geometry.Vec) geometry.Vec {
	area := math.Pi * k.radius * k.radius * k.length
	return slope.Scale(2*area).AddScaled(k.axis, -area*slope.Dot(k.axis))
}

// answer returns the dipole of a point's length of rod, A m, per kappa times the slope
// across it, A/m²: 2 pi a² a metre, less for a metal that hinders the current.
func (c *cell) answer(i int) float64 {
	p := &c.points[i]
	s := &c.stretches[p.stretch]
	length := s.length / float64(s.last-s.first-1)
	if i == s.first || i == s.last-1 {
		length /= 2
	}
	w := math.Min(1, c.table.rods.film/p.radius)
	return 2 * math.Pi * p.radius * p.radius * length * (1 - w) / (1 + w)
}

// slopeAt returns kappa times the slope at a place of what points and their images make,
// A/m². skip says of a point whether it does not count, and whether its image does not.
func (c *cell) slopeAt(at geometry.Vec, radius float64, skip func(q *point) (own, image bool)) (slope geometry.Vec) {
	level := c.table.boxes.level
	for k := range c.points {
		q := &c.points[k]
		own, image := skip(q)
		if !image {
			slope = slope.AddScaled(fall(at.Sub(q.at.WithAxis(2, 2*level-q.at.Z)), radius), c.q[k])
		}
		if !own {
			slope = slope.AddScaled(fall(at.Sub(q.at), radius), c.q[k])
		}
	}
	return slope
}

// fromDipoles returns kappa times what dipoles and their images make at point i, A/m. What a
// rod's own plastic does to its metal the stretch's matrix holds.
func (c *cell) fromDipoles(i int, dipoles []dipole) (v float64) {
	p, level := &c.points[i], c.table.boxes.level
	rod := c.stretches[p.stretch].rod
	for k := range dipoles {
		d := &dipoles[k]
		moment := d.moment
		if d.rod == rod {
			moment = d.back
		}
		v -= fall(p.at.Sub(d.at.WithAxis(2, 2*level-d.at.Z)), p.radius).Dot(moment.WithAxis(2, -moment.Z))
		if d.stretch != p.stretch {
			v -= fall(p.at.Sub(d.at), p.radius).Dot(moment)
		}
	}
	return v
}

// fall returns kappa times the slope of the potential of unit current at d from it, 1/m², no
// nearer than a radius.
func fall(d geometry.Vec, radius float64) geometry.Vec {
	r2 := math.Max(d.Dot(d), radius*radius)
	return d.Scale(-1 / (4 * math.Pi * r2 * math.Sqrt(r2)))
}

// slopeOf returns the slope at a stand of a potential given at the nodes, per step.
func (w *work) slopeOf(s *stand, potential []float32) geometry.Vec {
	var local solid
	for k, n := range s.node {
		v := float64(potential[n])
		for m, x := range s.box.weight[k*moments : (k+1)*moments] {
			local[m] += x * v
		}
	}
	return geometry.V(dot(local[:], &s.slope[0]), dot(local[:], &s.slope[1]), dot(local[:], &s.slope[2]))
}

// spread adds the nodes' currents that stand for a dipole, in A times a step.
func (w *work) spread(s *stand, moment geometry.Vec, out []float32) {
	var along solid
	for m := range along {
		along[m] = moment.X*s.slope[0][m] + moment.Y*s.slope[1][m] + moment.Z*s.slope[2][m]
	}
	for k, n := range s.node {
		out[n] += float32(dot(s.box.weight[k*moments:], &along))
	}
}
