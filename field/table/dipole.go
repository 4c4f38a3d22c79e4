package table

import (
	"math"

	"evenwall/geometry"
)

// turn reckons with the dipole across each point's length of rod, which answers the slope
// of the potential there as a conducting cylinder does: it moves the current toward where
// the potential falls, and the walls see and answer it there.
func (c *cell) turn() {
	w, kappa := c.work, c.table.settings.Conductivity
	potential := make([]float32, len(w.nodes)) // kappa times the regular part's, A/m
	for i, q := range c.q {
		for n, v := range w.felt[i*len(w.nodes) : (i+1)*len(w.nodes)] {
			potential[n] += v * float32(q)
		}
	}
	c.moved = make([]float32, len(w.nodes))
	dipoles := make([]geometry.Vec, len(c.points))
	for i := range c.points {
		slope := w.slopeOf(&w.stands[i], potential).Scale(1 / c.table.boxes.step).Add(c.slopeAt(i))
		axis := c.points[i].axis
		across := slope.AddScaled(axis, -slope.Dot(axis))
		dipoles[i] = across.Scale(-c.answer(i))
		w.spread(&w.stands[i], dipoles[i].Scale(1/c.table.boxes.step), c.moved)
	}
	for i := range c.points {
		v := 0.0
		for n, m := range c.moved {
			v += float64(w.felt[i*len(w.nodes)+n] * m)
		}
		c.emf[i] += (v + c.fromDipoles(i, dipoles)) / kappa
	}
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

// slopeAt returns kappa times the slope at point i of what the images and the other
// stretches make, A/m².
func (c *cell) slopeAt(i int) (slope geometry.Vec) {
	p, level := &c.points[i], c.table.boxes.level
	for k := range c.points {
		q := &c.points[k]
		slope = slope.Add(fall(p.at.Sub(q.at.WithAxis(2, 2*level-q.at.Z)), p.radius).Scale(c.q[k]))
		if q.stretch != p.stretch {
			slope = slope.Add(fall(p.at.Sub(q.at), p.radius).Scale(c.q[k]))
		}
	}
	return slope
}

// fromDipoles returns kappa times what dipoles of other stretches and the images of all
// make at point i, A/m.
func (c *cell) fromDipoles(i int, dipoles []geometry.Vec) (v float64) {
	p, level := &c.points[i], c.table.boxes.level
	for k, d := range dipoles {
		q := &c.points[k]
		v -= fall(p.at.Sub(q.at.WithAxis(2, 2*level-q.at.Z)), p.radius).Dot(d.WithAxis(2, -d.Z))
		if q.stretch != p.stretch {
			v -= fall(p.at.Sub(q.at), p.radius).Dot(d)
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
func (w *work) spread(s *stand, dipole geometry.Vec, out []float32) {
	var along solid
	for m := range along {
		along[m] = dipole.X*s.slope[0][m] + dipole.Y*s.slope[1][m] + dipole.Z*s.slope[2][m]
	}
	for k, n := range s.node {
		out[n] += float32(dot(s.box.weight[k*moments:], &along))
	}
}
