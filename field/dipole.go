package field

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"evenwall/geometry"
)

// stretch is a length of a rod's bare metal that answers a potential's slope across it with
// a dipole across it, as a conducting cylinder does.
type stretch struct {
	rod    int
	axis   geometry.Vec // of its leg
	radius float64      // m
	length float64      // m, along the axis
	area   float64      // m²
}

// part is a band's place in its stretch.
type part struct {
	stretch int
	share   float64 // of the stretch's length
}

// stretchLength is the length of a stretch in diameters of its rod.
const stretchLength = 2.0

// columns returns the number of unknowns: a current for each metal band, then two dipoles
// for each stretch.
func (b *body) columns() int { return b.metal + 2*len(b.stretches) }

// dipole returns the column of a stretch's dipole along its a-th direction.
func (b *body) dipole(stretch, a int) int { return b.metal + 2*stretch + a }

// cutStretches groups the metal bands of each rod.
func (b *body) cutStretches() {
	order := make([]int, b.metal)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int {
		return cmp.Or(cmp.Compare(b.bands[i].rod, b.bands[k].rod), cmp.Compare(b.bands[i].start+b.bands[i].s0, b.bands[k].start+b.bands[k].s0))
	})
	b.home = make([]part, b.metal)
	end := math.Inf(-1)
	for _, i := range order {
		k := &b.bands[i]
		last := len(b.stretches) - 1
		radius := math.Max(k.r0, k.r1)
		if last < 0 || b.stretches[last].rod != k.rod || b.stretches[last].axis != k.axis || k.start+k.s0 > end+1e-6 || b.stretches[last].length >= 2*stretchLength*b.stretches[last].radius {
			b.stretches = append(b.stretches, stretch{rod: k.rod, axis: k.axis})
			last++
		}
		s := &b.stretches[last]
		s.radius, s.length, s.area = math.Max(s.radius, radius), s.length+k.s1-k.s0, s.area+b.areas[i]
		b.home[i] = part{last, k.s1 - k.s0}
		end = k.start + k.s1
	}
	for i := range b.home {
		if s := &b.stretches[b.home[i].stretch]; s.length > 0 {
			b.home[i].share /= s.length
		}
	}
}

// addDipole adds the field of dipoles across metal band k, or across an image of it, to the
// columns: j is the current density of the band's unit current at the point, and a source
// moved by e makes e·j more of kappa times the potential.
func (b *body) addDipole(k int, at *band, j geometry.Vec, out []float64) {
	h := b.home[k]
	for a := range 2 {
		out[b.dipole(h.stretch, a)] += h.share * j.Dot(at.across[a])
	}
}

// mutual puts together what every column makes on every band and stretch: potentials on
// bands, minus the slope across stretches, so that the whole is symmetric.
func (b *body) mutual(felt [][]feeling) *mat.SymDense {
	n, m := len(b.bands), b.metal
	raw := mat.NewDense(b.columns(), n, nil) // of band currents
	full := mat.NewDense(b.columns(), b.columns(), nil)
	for i := range m {
		at := b.home[i]
		for k := range n {
			f := &felt[i][k]
			raw.Set(i, k, f.potential)
			for a := range 2 {
				row := b.dipole(at.stretch, a)
				raw.Set(row, k, raw.At(row, k)+at.share*f.slope[a])
			}
			if k < m {
				b.addMutual(full, i, k, f)
			}
		}
	}
	var fromBands mat.Dense
	fromBands.Mul(raw, b.sources)
	for i := range b.columns() {
		for k := range m {
			full.Set(i, k, fromBands.At(i, k))
		}
	}
	for s := range b.stretches {
		for a := range 2 {
			d := b.dipole(s, a)
			full.Set(d, d, full.At(d, d)+b.stretches[s].alone())
		}
	}
	return symmetric(full)
}

// addMutual adds what the dipoles of metal band k's stretch make on band i and its stretch.
func (b *body) addMutual(full *mat.Dense, i, k int, f *feeling) {
	at, from := b.home[i], b.home[k]
	add := func(row, column int, v float64) { full.Set(row, column, full.At(row, column)+v) }
	for a := range 2 {
		column := b.dipole(from.stretch, a)
		add(i, column, from.share*f.dipole[a])
		for on := range 2 {
			add(b.dipole(at.stretch, on), column, at.share*from.share*f.dipoleSlope[on][a])
		}
	}
}

// alone returns kappa times the slope across a stretch that its own unit dipole makes: a
// cylinder's surface with the dipole p per length has the potential p cos / (2 pi kappa a),
// 1/m³.
func (s *stretch) alone() float64 { return 1 / (2 * math.Pi * s.radius * s.radius * s.length) }

// lossy returns the factor by which a law of the given slope, ohm m², makes alone greater:
// the drop of the current that enters and leaves across the metal. A law that hinders the
// current as much as the liquid does leaves no dipole.
func (s *stretch) lossy(slope, kappa float64) float64 {
	w := math.Min(0.98, kappa*slope/s.radius)
	return (1 + w) / (1 - w)
}

// wide returns kappa times the potential at p of every column with the rods' radii drawn
// out by d: any smooth field will do that joins their own at a distance.
func (b *body) wide(p geometry.Vec, d float64, out []float64) {
	clear(out)
	for k := range b.metal {
		b.addWide(k, b.bands[k], p, d, out)
		for m := range b.images[k] {
			b.addWide(k, b.images[k][m], p, d, out)
		}
	}
	b.thinned(out)
}

func (b *body) addWide(k int, s band, p geometry.Vec, d float64, out []float64) {
	s.r0, s.r1 = s.r0+d, s.r1+d
	out[k] += s.potential(p)
	edge := math.Max(s.r0, s.r1)
	x := p.Sub(s.at)
	z := x.Dot(s.axis)
	x = x.AddScaled(s.axis, -z)
	if rho := x.Norm(); rho < edge { // inside, a dipole's potential grows from the axis to the edge
		if rho < 1e-9 {
			return
		}
		_, j := b.bands[k].thin(&s).flux(s.at.AddScaled(s.axis, z).AddScaled(x, edge/rho))
		b.addDipole(k, &s, j.Scale(rho/edge), out)
		return
	}
	_, j := b.bands[k].thin(&s).flux(p)
	b.addDipole(k, &s, j, out)
}

// thin returns the widened band at with b's own radii.
func (b *band) thin(at *band) *band {
	t := *at
	t.r0, t.r1 = b.r0, b.r1
	return &t
}
