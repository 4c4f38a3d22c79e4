package field

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry"
)

// The 267 mL cell of DIN 50957 by its sides (from memory): anode 63.5 mm, square to the
// long side of 127 mm and the short one of 47.6 mm; the cathode joins those two.
const (
	hullAnode = 0.0635
	hullLong  = 0.127
	hullShort = 0.0476
	hullDepth = 0.049 // for 267 mL, about
)

// hullMap is the exact primary distribution of the cell by two Schwarz–Christoffel maps
// from the upper half plane: t = −p and infinity to the anode's ends, 0 and 1 to the
// cathode's (0 at the sharp corner), on to the trapezoid and on to a rectangle in which the
// current is even. Derived here.
type hullMap struct {
	sharp   float64   // the sharp corner's angle over pi
	p       float64   // see above
	x       []float64 // m from the cathode's near end, ascending
	j       []float64 // over the mean, at x
	current float64   // over conductivity, depth and volts
}

// endpoint integrates f over [0, 1], whose ends may be singular, by the substitution of
// Takahasi and Mori (1974): f is given t and 1−t.
func endpoint(f func(t, rest float64) float64) float64 {
	const h = 1.0 / 32
	sum := 0.0
	for k := -140; k <= 140; k++ {
		u := math.Pi / 2 * math.Sinh(h*float64(k))
		t, rest := 1/(1+math.Exp(-2*u)), 1/(1+math.Exp(2*u))
		sum += h * math.Pi / 2 * math.Cosh(h*float64(k)) * f(t, rest) * 2 * t * rest
	}
	return sum
}

func newHullMap() *hullMap {
	slant := math.Hypot(hullLong-hullShort, hullAnode)
	m := &hullMap{sharp: math.Atan2(hullAnode, hullLong-hullShort) / math.Pi}
	cathode := func(p float64) func(t, rest float64) float64 {
		return func(t, rest float64) float64 {
			return math.Pow(t, m.sharp-1) * math.Pow(rest, -m.sharp) / math.Sqrt(t+p)
		}
	}
	longSide := func(p float64) float64 { // t = −p s
		return endpoint(func(s, rest float64) float64 {
			return p * math.Pow(p*s, m.sharp-1) * math.Pow(1+p*s, -m.sharp) / math.Sqrt(p*rest)
		})
	}
	low, high := 1e-3, 1e3
	for range 200 {
		m.p = math.Sqrt(low * high)
		if longSide(m.p)/endpoint(cathode(m.p)) < hullLong/slant {
			low = m.p
		} else {
			high = m.p
		}
	}
	m.trace(slant, endpoint(cathode(m.p)))
	even := func(t, rest float64) float64 { return 1 / math.Sqrt(t*rest*(t+m.p)) }
	across := endpoint(func(s, rest float64) float64 { return m.p / math.Sqrt(m.p*s*(1+m.p*s)*m.p*rest) })
	m.current = endpoint(even) / across
	return m
}

// trace tabulates the cathode: t and 1−t run by a logistic substitution.
func (m *hullMap) trace(slant, whole float64) {
	const n = 40000
	length, charge := 0.0, 0.0
	for k := range n {
		u := 60 * ((float64(k)+0.5)/n - 0.5)
		t, rest := 1/(1+math.Exp(-u)), 1/(1+math.Exp(u))
		step := 60.0 / n * t * rest
		dz := step * math.Pow(t, m.sharp-1) * math.Pow(rest, -m.sharp) / math.Sqrt(t+m.p) * slant / whole
		length += dz
		density := math.Pow(t/rest, 0.5-m.sharp)
		charge += density * dz
		m.x = append(m.x, slant-length+dz/2)
		m.j = append(m.j, density)
	}
	slices.Reverse(m.x)
	slices.Reverse(m.j)
	for i := range m.j {
		m.j[i] *= slant / charge
	}
}

// at returns the current density over the mean at x metres from the near end.
func (m *hullMap) at(x float64) float64 {
	i, _ := slices.BinarySearch(m.x, x)
	i = min(max(i, 1), len(m.x)-1)
	f := (x - m.x[i-1]) / (m.x[i] - m.x[i-1])
	return m.j[i-1] + f*(m.j[i]-m.j[i-1])
}

// The map against what fine two-dimensional finite elements say of the published log
// formula (derived figures, to 1 %): −15 % of it at 1 cm, −12 at 2, −3 at 4, +1.5 at 5,
// +11 at 7, +22 at 8. Formula: A/dm² = I (5.10 − 5.24 log10 cm), the cell about
// 49 mm deep: that depth is why the tolerance is wider than the figures'.
func TestHullMap(t *testing.T) {
	m := newHullMap()
	for cm, off := range map[float64]float64{1: -15, 2: -12, 4: -3, 5: 1.5, 7: 11, 8: 22} {
		assert.InDelta(t, off, percent(m.dm2(cm), 5.10-5.24*math.Log10(cm)), 3.5, "%g cm", cm)
	}
}

// dm2 returns A/dm² at 1 A in the cell, at cm from the near end.
func (m *hullMap) dm2(cm float64) float64 {
	return m.at(cm/100) / (100 * math.Hypot(hullLong-hullShort, hullAnode) * hullDepth)
}

// hullOff: the cell in so many layers of cells, one of which is the cell in two dimensions:
// current and distribution against the map and the distribution against the published formula
// from 1.5 to 7 cm.
func hullOff(t *testing.T, turn geometry.Rotation, h float64, layers int) (current, j, published float64) {
	depth := float64(layers) * h
	centre := func(x, y float64) [2]float64 { return [2]float64{x - hullLong/2, y - hullAnode/2} }
	mesh, _ := prism([][2]float64{centre(0, 0), centre(hullLong, 0), centre(hullShort, hullAnode), centre(0, hullAnode)}, depth, 1)
	onLine := func(f int) int { // 0 long side, 1 cathode, 2 short side, 3 anode, 4 ends
		if f >= 8 {
			return 4
		}
		return f / 2
	}
	level := depth / 2
	rg := &rig{mesh: mesh, steel: func(f int) bool { return onLine(f) == 1 }, turn: turn, h: h,
		insulated: func(p geometry.Vec) bool {
			x, y := p.X+hullLong/2, p.Y+hullAnode/2
			slant := (x-hullShort)*hullAnode - (hullAnode-y)*(hullLong-hullShort)
			return x > 1e-5 && slant < -1e-6
		},
		held: func(geometry.Vec) (float64, bool) { return 1, true }}
	if turn == geometry.Identity() {
		rg.surface = &level
	}
	s := rg.solve(t)
	m := newHullMap()
	all, _ := s.read()
	mean := s.intoSteel() / (math.Hypot(hullLong-hullShort, hullAnode) * depth)
	for _, p := range all {
		x := math.Hypot(p.Centre.X+hullLong/2-hullShort, p.Centre.Y-hullAnode/2)
		if x < 0.015 || x > 0.070 {
			continue
		}
		j = math.Max(j, math.Abs(percent(p.j/mean, m.at(x))))
		cm := 100 * x
		formula := (5.10 - 5.24*math.Log10(cm)) * 100 * math.Hypot(hullLong-hullShort, hullAnode) * hullDepth
		published = math.Max(published, math.Abs(percent(p.j/mean, formula)))
	}
	return percent(s.intoSteel(), cellKappa*depth*m.current), j, published
}

func hullRow(t *testing.T) exactRow {
	r := exactRow{what: "267 mL slanted cell", against: "exact (conformal map), log formula of the trade from 1.5 to 7 cm"}
	for _, c := range []struct {
		layers int
		name   string
	}{{17, ""}, {1, "in 2-D "}} {
		current, j, published := hullOff(t, geometry.Identity(), hullAnode/22, c.layers)
		r.measured(t, c.name+"current", current, 1)
		r.measured(t, c.name+"wall current at worst", j, 1)
		r.measured(t, c.name+"log formula", published, 15)
	}
	return r
}
