package table

import (
	"errors"
	"math"
)

// cell is a layout being solved: the points' currents at the supply.
type cell struct {
	*hung
	table *Table
	work  *work

	factor  []float64 // Cholesky factor of the points' resistances, by rows
	bias    *bias     // nil: the wall's law is a plain resistance
	emf     []float64 // V that the laws take besides the slopes reckoned with
	q       []float64 // A
	moved   []float32 // what the dipoles add to the nodes' currents, A
	across  float64   // V over liquid and laws
	current float64   // A
}

var errStuck = errors.New("the rods' currents could not be solved: two of them meet, or one lies in the wall")

// rounds is how often what the laws take besides their slopes is found anew, at most, and
// settled the change of it, V, that ends them.
const (
	rounds  = 8
	settled = 1e-3
)

// solve finds the currents; false when it cannot.
func (c *cell) solve() bool {
	n := len(c.points)
	if !c.resist() {
		return false
	}
	c.emf, c.q = make([]float64, n), make([]float64, n)
	if c.table.zones != nil {
		c.bias = newBias(c.table.zones)
	}
	for range rounds {
		c.drive()
		c.charges()
		if c.lag() < settled {
			break
		}
	}
	c.turn()
	c.drive()
	c.charges()
	if c.bias != nil {
		c.bias.settle(c.work)
	}
	return true
}

// lag finds anew what the laws take besides their slopes, and returns the greatest change
// at a point, V.
func (c *cell) lag() float64 {
	before := append([]float64(nil), c.emf...)
	clear(c.emf)
	if law := c.table.settings.Anode; law != nil {
		film := c.table.rods.film / c.table.settings.Conductivity
		for i, j := range c.densities() {
			drop, _ := law.Drop(j)
			c.emf[i] = drop - film*j
		}
	}
	if c.bias != nil {
		c.bias.settle(c.work)
		for i := range c.emf {
			s := &c.work.stands[i]
			for k, n := range s.node {
				c.emf[i] += float64(s.weight[k] * c.bias.atNode[n])
			}
		}
	}
	change := 0.0
	for i := range before {
		change = math.Max(change, math.Abs(c.emf[i]-before[i]))
	}
	return change
}

// resist builds the matrix of the points' potentials per current, ohm, and factors it.
func (c *cell) resist() bool {
	n, kappa := len(c.points), c.table.settings.Conductivity
	a := make([]float64, n*n)
	for i := range n {
		for k := range i + 1 {
			a[i*n+k] = (c.other(i, k) + c.work.mutual(i, k)) / kappa
		}
	}
	for _, s := range c.stretches {
		for i := s.first; i < s.last; i++ {
			for k := s.first; k <= i; k++ {
				a[i*n+k] += s.Self.At(i-s.first, k-s.first) / kappa
			}
		}
	}
	c.factor = a
	return cholesky(a, n)
}

// drive sets currents and volts for the present emfs.
func (c *cell) drive() {
	n, supply := len(c.points), &c.table.settings.Supply
	volts := supply.Voltage - supply.Dead
	if volts <= 0 {
		clear(c.q)
		c.current, c.across = 0, 0
		return
	}
	each, held := make([]float64, n), append([]float64(nil), c.emf...)
	for i := range each {
		each[i] = 1
	}
	substitute(c.factor, each)
	substitute(c.factor, held)
	conductance, lost := sumOf(each), sumOf(held)
	c.current = (volts*conductance - lost) / (1 + supply.Resistance*conductance)
	if supply.Limit > 0 && c.current > supply.Limit {
		c.current = supply.Limit
	}
	c.across = (c.current + lost) / conductance
	for i := range each {
		c.q[i] = c.across*each[i] - held[i]
	}
}

// densities returns the current density over a diameter of rod about each point, A/m².
func (c *cell) densities() []float64 {
	kappa := c.table.settings.Conductivity
	out := make([]float64, len(c.points))
	for _, s := range c.stretches {
		n := s.last - s.first
		for i := range n {
			volts := 0.0 // what drives current out of the metal there
			for k := range n {
				volts += s.Self.At(i, k) * c.q[s.first+k] / kappa
			}
			for k := range n {
				out[s.first+k] += s.Mean.At(k, i) * volts * kappa
			}
		}
	}
	return out
}

// most returns the greatest current density on the rods' metal, A/m².
func (c *cell) most() float64 {
	most := 0.0
	for _, j := range c.densities() {
		most = math.Max(most, j)
	}
	return most
}

// charges sets the nodes' currents.
func (c *cell) charges() {
	w := c.work
	w.charge = resize(w.charge, len(w.nodes))
	clear(w.charge)
	for i := range c.points {
		s := &w.stands[i]
		for k, n := range s.node {
			w.charge[n] += s.weight[k] * float32(c.q[i])
		}
	}
	for n, v := range c.moved {
		w.charge[n] += v
	}
}

// cholesky factors the symmetric matrix whose lower part a holds by rows, in place.
func cholesky(a []float64, n int) bool {
	for i := range n {
		for k := range i + 1 {
			v := a[i*n+k]
			for m := range k {
				v -= a[i*n+m] * a[k*n+m]
			}
			if i != k {
				a[i*n+k] = v / a[k*n+k]
				continue
			}
			if !(v > 0) {
				return false
			}
			a[i*n+i] = math.Sqrt(v)
		}
	}
	return true
}

// substitute solves for one right-hand side in place.
func substitute(l, x []float64) {
	n := len(x)
	for i := range n {
		for k := range i {
			x[i] -= l[i*n+k] * x[k]
		}
		x[i] /= l[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			x[i] -= l[k*n+i] * x[k]
		}
		x[i] /= l[i*n+i]
	}
}

func sumOf(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum
}
