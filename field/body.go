package field

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"evenwall/geometry"
)

// body is all rods in liquid that fills the space between its mirrors: how the
// currents of the metal bands make potentials on them, the plastic's part worked in.
//
// The bands are a boundary-element model of the rods' surfaces, a single layer: sources on
// metal and plastic alike, such that no current leaves the plastic. The field that unit
// current out of one metal band makes is so a mixture of all bands' fields.
type body struct {
	bands   []band // metal first, then plastic
	metal   int    // how many are metal
	areas   []float64
	images  [][]band      // of each band
	sources *mat.Dense    // strength of every band's source per unit current out of each metal band
	self    *mat.SymDense // kappa times what each column makes on each metal band or stretch

	stretches []stretch // of metal, that carry dipoles
	home      []part    // of each metal band: its stretch
	thin      []float64 // of each column: 1 over the conductivity at its height; nil: 1
}

// newBody builds the matrices for the bands, of which at least one must be metal. The
// mirrors are insulating planes: the liquid's surface, above all.
func newBody(bands []band, mirrors []geometry.Plane) *body {
	b := &body{}
	for _, metal := range []bool{true, false} {
		for _, s := range bands {
			if s.metal == metal {
				b.bands = append(b.bands, s)
				b.areas = append(b.areas, s.area())
				b.images = append(b.images, s.images(mirrors))
			}
		}
		if metal {
			b.metal = len(b.bands)
		}
	}
	b.cutStretches()
	b.settle()
	return b
}

// settle computes sources and self. With S the potentials that the bands' sources make on
// the metal and F the currents that they drive out of each band's outer side (the jump of
// a single layer and what the others drive through), plastic asks F = 0 of its own rod's there, and the
// sources per unit current out of metal band b are the b-th column of F⁻¹.
func (b *body) settle() {
	n, m := len(b.bands), b.metal
	felt := make([][]feeling, n)
	leaves := mat.NewDense(n, n, nil)
	spread(n, func(i int) {
		felt[i] = make([]feeling, n)
		for k := range n {
			felt[i][k] = b.influence(i, k)
			if i < b.metal || b.bands[i].rod == b.bands[k].rod { // what plastic makes of other rods' field: see shade
				leaves.Set(i, k, felt[i][k].out*b.areas[i])
			}
		}
	})
	var inverse mat.Dense
	if inverse.Inverse(leaves) != nil {
		inverse.CloneFrom(identity(n))
	}
	b.sources = mat.DenseCopyOf(inverse.Slice(0, n, 0, m))
	for k := range m { // what leaves in all is the band's own current
		sum := mat.Sum(b.sources.ColView(k))
		for i := range n {
			b.sources.Set(i, k, b.sources.At(i, k)/sum)
		}
	}
	b.self = b.mutual(felt)
}

// symmetric returns the mean of a and its transpose.
func symmetric(a *mat.Dense) *mat.SymDense {
	n, _ := a.Dims()
	s := mat.NewSymDense(n, nil)
	for i := range n {
		for k := i; k < n; k++ {
			s.SetSym(i, k, (a.At(i, k)+a.At(k, i))/2)
		}
	}
	return s
}

// feeling is what unit current of one band makes round the middle of another: kappa times
// the mean potential, 1/m, and the mean current density out of the surface, 1/m².
// Of a source off the axis also the slope of kappa times the potential across the rod,
// 1/m², and the same two of a unit dipole across the source, 1/m² and 1/m³.
type feeling struct {
	potential, out float64
	slope          [2]float64
	dipole         [2]float64
	dipoleSlope    [2][2]float64 // by direction on the band, by direction of the dipole
}

func (f *feeling) add(g feeling) {
	f.potential, f.out = f.potential+g.potential, f.out+g.out
	for a := range 2 {
		f.slope[a] += g.slope[a]
		f.dipole[a] += g.dipole[a]
		for c := range 2 {
			f.dipoleSlope[a][c] += g.dipoleSlope[a][c]
		}
	}
}

// influence returns what unit current of band k, and of its images, makes on band i.
func (b *body) influence(i, k int) (f feeling) {
	on, from := &b.bands[i], &b.bands[k]
	if i == k {
		f.potential, f.out = on.own()
		f.out += 1 / (2 * b.areas[k])
	} else {
		f = on.feel(from)
	}
	for m := range b.images[k] {
		f.add(on.feel(&b.images[k][m]))
	}
	return f
}

// own returns what a band makes at its own middle: the kernel is singular there as a
// logarithm, which the cubic substitution makes smooth.
func (b *band) own() (potential, out float64) {
	s, r := b.middle()
	if b.flat > 0 { // half of what leaves a cylinder is its own layer's jump
		return -math.Log(r) / (2 * math.Pi * b.flat), 1 / (2 * b.area())
	}
	nr, ns := b.normal()
	for _, q := range gauss8 {
		for _, side := range []float64{-0.5, 0.5} {
			t := 0.5 + side*q[0]*q[0]*q[0]
			_, share := b.ring(t)
			z0, a := b.s0+t*(b.s1-b.s0), b.r0+t*(b.r1-b.r0)
			v, jr, jz := ringFlux(a, r, s-z0)
			weight := 0.5 * 3 * q[0] * q[0] * q[1] * share
			potential += weight * v
			out += weight * (jr*nr + jz*ns)
		}
	}
	return potential, out
}

// gauss8 is the Gauss–Legendre rule of eight points on [0, 1] (Abramowitz and Stegun
// 1964, table 25.4).
var gauss8 = gaussOnUnit([4][2]float64{
	{0.1834346424956498, 0.3626837833783620}, {0.5255324099163290, 0.3137066458778873},
	{0.7966664774136267, 0.2223810344533745}, {0.9602898564975363, 0.1012285362903763},
})

func gaussOnUnit(half [4][2]float64) (rule [8][2]float64) {
	for i, q := range half {
		rule[2*i] = [2]float64{(1 - q[0]) / 2, q[1] / 2}
		rule[2*i+1] = [2]float64{(1 + q[0]) / 2, q[1] / 2}
	}
	return rule
}

// closeRule returns the rule that integrates the band's field on its own axis' surfaces at a
// distance of at least apart, m, along the axis, to about 1e-7.
func (b *band) closeRule(apart float64) [][2]float64 {
	length := math.Hypot(b.s1-b.s0, b.r1-b.r0)
	switch {
	case apart > 8*length:
		return gauss2
	case apart > 3*length:
		return gauss3
	default:
		return gauss8[:]
	}
}

// spokes is how many points around a band stand for its circle when the source does not
// share its axis.
const spokes = 8

// feel returns what unit current of another band makes on b, averaged round b's middle.
func (b *band) feel(from *band) (f feeling) {
	s, r := b.middle()
	nr, ns := b.normal()
	if offset, flip, ok := coaxial(b, from); ok {
		for _, q := range from.closeRule(math.Abs(s-offset-flip*(from.s0+from.s1)/2) - (from.s1-from.s0)/2) {
			_, share := from.ring(q[0])
			z0, a := from.s0+q[0]*(from.s1-from.s0), from.r0+q[0]*(from.r1-from.r0)
			v, jr, jz := ringFlux(a, r, s-(offset+flip*z0))
			f.potential += q[1] * share * v
			f.out += q[1] * share * (jr*nr + jz*ns)
		}
		return f
	}
	for i := range spokes {
		var turn [2]float64 // components of the spoke
		turn[1], turn[0] = math.Sincos(2 * math.Pi * (float64(i) + 0.5) / spokes)
		away := b.across[0].Scale(turn[0]).Add(b.across[1].Scale(turn[1]))
		value, j := from.flux(b.at.AddScaled(b.axis, s).AddScaled(away, r))
		f.potential += value / spokes
		f.out += j.Dot(away.Scale(nr).Add(b.axis.Scale(ns))) / spokes
		for a := range 2 {
			f.slope[a] += 2 / (r * spokes) * value * turn[a]
			dipole := j.Dot(from.across[a])
			f.dipole[a] += dipole / spokes
			for on := range 2 {
				f.dipoleSlope[on][a] += 2 / (r * spokes) * dipole * turn[on]
			}
		}
	}
	return f
}

// coaxial reports whether two bands share their axis, and then how from's distance s
// along its own axis stands on b's: offset + flip·s.
func coaxial(b, from *band) (offset, flip float64, ok bool) {
	cos := b.axis.Dot(from.axis)
	if math.Abs(cos) < 1-1e-12 {
		return 0, 0, false
	}
	d := from.at.Sub(b.at)
	offset = d.Dot(b.axis)
	if d.AddScaled(b.axis, -offset).Norm() > 1e-9 {
		return 0, 0, false
	}
	return offset, math.Copysign(1, cos), true
}

// fields returns kappa times the potential at p of every column in out: of unit current
// out of each metal band, 1/m, and of a unit dipole across each stretch, 1/m²; images
// included.
func (b *body) fields(p geometry.Vec, out []float64) {
	raw := make([]float64, len(b.bands))
	clear(out)
	for k := range b.bands {
		if k >= b.metal {
			raw[k] = b.bands[k].potential(p)
			for m := range b.images[k] {
				raw[k] += b.images[k][m].potential(p)
			}
			continue
		}
		v, j := b.bands[k].flux(p)
		raw[k] = v
		b.addDipole(k, &b.bands[k], j, out)
		for m := range b.images[k] {
			v, j := b.images[k][m].flux(p)
			raw[k] += v
			b.addDipole(k, &b.images[k][m], j, out)
		}
	}
	mat.NewVecDense(b.metal, out[:b.metal]).MulVec(b.sources.T(), mat.NewVecDense(len(raw), raw))
	b.thinned(out)
}

// probeStep is the step, m, of the difference that takes a field's slope. The mean of both is the
// field to about its square over that of the distance from the axis: 2e-5 at 5 mm.
const probeStep = 2e-5

// fluxes is fields with minus its slope along d, too: the current density there over the
// liquid's conductivity as a share of kappa.
func (b *body) fluxes(p, d geometry.Vec, out, along []float64) {
	behind := make([]float64, len(out))
	b.fields(p.AddScaled(d, -probeStep), behind)
	b.fields(p.AddScaled(d, probeStep), along)
	for i := range along {
		out[i], along[i] = (behind[i]+along[i])/2, (behind[i]-along[i])/(2*probeStep)
	}
}
