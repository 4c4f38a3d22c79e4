package table

import (
	"math"

	"evenwall/geometry"
)

// dipole is one in the liquid, A m.
type dipole struct {
	at, moment geometry.Vec
	stretch    int // whose it is; -1: of plastic
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
	slope = slope.Add(c.slopeAt(p.at, p.radius, p.stretch))
	across := slope.AddScaled(p.axis, -slope.Dot(p.axis))
	return dipole{p.at, across.Scale(-c.answer(i)), p.stretch, c.stretches[p.stretch].rod}
}

// insulating returns the dipole of a tube: pi R² a metre along it and twice that across, by
// the slope and against what metal does.
func (c *cell) insulating(k *tube, slope geometry.Vec) dipole {
	slope = slope.Add(c.slopeAt(k.at, k.radius, -1))
	along := k.axis.Scale(slope.Dot(k.axis))
	area := math.Pi * k.radius * k.radius * k.length
	return dipole{k.at, slope.Scale(2*area).AddScaled(along, -area), -1, k.rod}
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

// slopeAt returns kappa times the slope at a place of what the images and the stretches but
// one make, A/m².
func (c *cell) slopeAt(at geometry.Vec, radius float64, but int) (slope geometry.Vec) {
	level := c.table.boxes.level
	for k := range c.points {
		q := &c.points[k]
		slope = slope.Add(fall(at.Sub(q.at.WithAxis(2, 2*level-q.at.Z)), radius).Scale(c.q[k]))
		if q.stretch != but {
			slope = slope.Add(fall(at.Sub(q.at), radius).Scale(c.q[k]))
		}
	}
	return slope
}

// fromDipoles returns kappa times what dipoles of other stretches, of other rods' plastic
// and the images of all make at point i, A/m. What a rod's own plastic does to its metal
// the stretch's matrix holds.
func (c *cell) fromDipoles(i int, dipoles []dipole) (v float64) {
	p, level := &c.points[i], c.table.boxes.level
	rod := c.stretches[p.stretch].rod
	for k := range dipoles {
		d := &dipoles[k]
		own := d.rod == rod && d.stretch < 0
		if !own {
			v -= fall(p.at.Sub(d.at.WithAxis(2, 2*level-d.at.Z)), p.radius).Dot(d.moment.WithAxis(2, -d.moment.Z))
		}
		if !own && d.stretch != p.stretch {
			v -= fall(p.at.Sub(d.at), p.radius).Dot(d.moment)
		}
	}
	return v
}

// fall returns the slope of coulomb at d from its source, 1/m².
func fall(d geometry.Vec, radius float64) geometry.Vec {
	r2 := d.Dot(d) + radius*radius
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
