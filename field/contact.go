package field

import (
	"math"

	"evenwall/field/electrode"
	"evenwall/geometry/lattice"
)

// grazing is the least component of the wall's normal along a link that is reckoned with.
const grazing = 0.02

// contact is a wall link as a conductor: liquid of length s over an area, then the wall's
// law, linearised about the current density j.
type contact struct {
	link  *lattice.Link
	area  float64  // of wall that the link stands for, m²
	depth float64  // s: distance from the cell's centre to the wall, m, in liquid of the bath's conductivity
	j     float64  // A/m²
	slope float64  // of the law at j, ohm m²
	emf   float64  // drop at j less slope·j, V
	sheet bool     // liquid goes on behind the wall
	held  *float64 // potential of an electrode of its own, V; nil: the wall
	trace *trace   // the rods' own field where the link lies in their region, else nil
}

// newContacts returns the links of the liquid as conductors, at no current.
func newContacts(p *Problem, r *region) []contact {
	h := p.Liquid.Lattice.H
	out := make([]contact, len(p.Liquid.Walls))
	for i := range out {
		k := &p.Liquid.Walls[i]
		n := 1.0
		if p.Normal != nil && k.Face >= 0 {
			n = math.Max(grazing, math.Abs(p.Normal(k.Face).Axis(int(k.Axis))))
		}
		out[i] = contact{link: k, area: h * h * n * k.Cover, depth: k.Theta * h * n / p.medium().at(p.Liquid.Point(k.Cell).Z)}
		step := p.Liquid.Lattice.Step(int(k.Axis))
		if !k.Ahead {
			step = -step
		}
		out[i].sheet = p.Liquid.Find(p.Liquid.Keys[k.Cell]+step) >= 0
		if p.Held != nil {
			if volts, ok := p.Held(k); ok {
				out[i].held = &volts
			}
		}
		if t, ok := r.walls[int32(i)]; ok {
			out[i].trace = &t
		}
	}
	return out
}

// linearise sets slope and emf from the law at the present current.
func (c *contact) linearise(law electrode.Law) {
	if c.held != nil {
		c.slope, c.emf = 0, *c.held
		return
	}
	drop, slope := law.Drop(c.j)
	c.slope, c.emf = slope, drop-slope*c.j
}

// conductance returns the link's, from cell to metal, S: Shortley and Weller (1938) with
// the law's slope in series.
func (c *contact) conductance(kappa float64) float64 {
	return c.area / (c.slope + c.depth/kappa)
}

// mixed returns the rods' potential at the wall less what their current costs in the
// law: the part of band b that u must cancel there, V/A.
func (c *contact) mixed(b int) float64 {
	return c.trace.g[b] - c.trace.f[b]*c.slope/c.area
}

// thick is how many spacings of liquid a law resists as much as where it starts to count as
// thick.
const thick = 64

// bent returns by how much the link's side of the cell stands for less of the second
// derivative along its axis than an open side does, in spacings h. What the link carries is
// the current theta·(1 − l/2) spacings from the cell, l the liquid's part of the link's
// resistance: half way to a wall without a film (Shortley and Weller 1938), at a wall that is
// all film. Where a thick film makes the wall nearly an insulator, and at a sheet, whose edge
// is only a share of a link, what goes through must add up instead: the more of the
// resistance is the film's, the less is taken off.
func (c *contact) bent(kappa, h float64) float64 {
	liquid := c.depth / kappa
	l := liquid / (liquid + c.slope)
	added := (1 - c.link.Theta) / 2 * l
	if c.sheet {
		return added * c.link.Cover
	}
	film := c.slope * kappa / (thick * h)
	return (added + (0.5-c.link.Theta*(1-l/2)-added)/(1+film*film)) * c.link.Cover
}

// settle sets the current density, A/m², that the potential v drives, V.
func (c *contact) settle(law electrode.Law, v, kappa float64) {
	if c.held != nil {
		c.j = (v - *c.held) * kappa / c.depth
		return
	}
	if !c.nudge(law, v, kappa) {
		c.j, _ = electrode.Through(law, c.depth/kappa, v)
	}
}

// nudge improves the present current density by Newton's steps, and reports whether they
// settled: from round to round it changes little. A step past rest is cut to a tenth.
func (c *contact) nudge(law electrode.Law, v, kappa float64) bool {
	j, liquid := c.j, c.depth/kappa
	if j*v <= 0 {
		return false
	}
	for range 12 {
		drop, slope := law.Drop(j)
		next := j + (v-drop-j*liquid)/(slope+liquid)
		if next*v <= 0 {
			next = j / 10
		}
		if math.Abs(next-j) <= 1e-7*math.Abs(next) {
			c.j = next
			return true
		}
		j = next
	}
	return false
}

// seen returns the potential, V, that drives current through liquid and law in series:
// the cell's own, or in the rods' region u plus the rods' part.
func (c *contact) seen(r *region, x []float64, q []float64, kappa float64) float64 {
	v := x[c.link.Cell+1]
	if c.trace != nil {
		v = r.u(x, q, c.link.Cell)
		back := c.depth / (kappa * c.area)
		for b, current := range q {
			v += (c.trace.g[b] + c.trace.f[b]*back) * current
		}
	}
	return v
}
