package field

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"evenwall/geometry"
)

// own is the rods' potential in liquid without walls at given currents, images included, in
// groups of a few neighbouring bands that are taken together from afar.
type own []group

// group is some bands of one straight length of a rod, or of its image.
type group struct {
	bands   []*band
	charge  []float64      // current of each band's source, A
	dipole  []geometry.Vec // and its dipole, A m
	centre  geometry.Vec
	axis    geometry.Vec
	reach   float64 // of the bands from the centre, m
	all     float64 // sum of the charges, A
	moment  geometry.Vec
	lengths float64 // mean of the distance along the axis squared less half of that off it, times the charges, A m²
}

// How many bands make a group at most, and from how many times its reach on it is taken by its
// multipoles to the second order: what they leave out is the cube of one over that, times the
// share by which the group is uneven.
const (
	groupBands = 8
	groupFar   = 6
)

// own returns the potential of the columns' currents and dipoles q.
func (b *body) own(q []float64) own {
	q = slices.Clone(q)
	b.thinned(q) // in a liquid of layers a column counts by its height
	strength := mat.NewVecDense(len(b.bands), nil)
	strength.MulVec(b.sources, mat.NewVecDense(b.metal, q[:b.metal]))
	var out own
	put := func(of func(k int) *band) {
		for k := range b.bands {
			g, at := (*group)(nil), of(k)
			if n := len(out); n > 0 && out[n-1].takes(at) {
				g = &out[n-1]
			} else {
				out = append(out, group{axis: at.axis})
				g = &out[n]
			}
			g.bands, g.charge = append(g.bands, at), append(g.charge, strength.AtVec(k))
			dipole := geometry.Vec{}
			if k < b.metal {
				h := b.home[k]
				for a := range 2 {
					dipole = dipole.AddScaled(at.across[a], h.share*q[b.dipole(h.stretch, a)])
				}
			}
			g.dipole = append(g.dipole, dipole)
		}
	}
	put(func(k int) *band { return &b.bands[k] })
	for m := range b.images[0] {
		put(func(k int) *band { return &b.images[k][m] })
	}
	for i := range out {
		out[i].sum()
	}
	return out
}

// takes reports whether a band goes on where the group ends.
func (g *group) takes(b *band) bool {
	last := g.bands[len(g.bands)-1]
	return len(g.bands) < groupBands && b.flat == 0 && last.axis == b.axis && last.rod == b.rod && last.metal == b.metal
}

// ends returns the middles of a band's ends.
func (b *band) ends() [2]geometry.Vec {
	return [2]geometry.Vec{b.at.AddScaled(b.axis, b.s0), b.at.AddScaled(b.axis, b.s1)}
}

// sum finds the group's multipoles about the middle of its extent.
func (g *group) sum() {
	box := geometry.EmptyBox()
	for _, b := range g.bands {
		for _, end := range b.ends() {
			box = box.Include(end)
		}
	}
	g.centre = box.Min.Add(box.Max).Scale(0.5)
	for i, b := range g.bands {
		for k, end := range b.ends() {
			g.reach = math.Max(g.reach, end.Dist(g.centre)+[2]float64{b.r0, b.r1}[k])
		}
		w := g.charge[i]
		g.all += w
		for _, q := range gauss3 {
			ring, share := b.ring(q[0])
			at := ring.centre.Sub(g.centre)
			along := at.Dot(g.axis)
			g.moment = g.moment.AddScaled(at, w*q[1]*share)
			g.lengths += w * q[1] * share * (along*along - ring.radius*ring.radius/2)
		}
		g.moment = g.moment.Add(g.dipole[i])
	}
}

// potential returns kappa times the potential at p, A/m, p at least about half a band's length
// away from the bands.
func (o own) potential(p geometry.Vec) float64 {
	sum := 0.0
	for i := range o {
		if g := &o[i]; g.isFar(p) {
			sum += g.far(p)
		} else {
			sum += g.near(p)
		}
	}
	return sum
}

// line returns kappa times the potential at p, A/m, and how it rises along d, A/m².
func (o own) line(p, d geometry.Vec) (value, slope float64) {
	ahead, behind := p.AddScaled(d, probeStep), p.AddScaled(d, -probeStep)
	for i := range o {
		g, of := &o[i], (*group).near
		if g.isFar(p) { // for both: what the groups leave out must not count as a slope
			of = (*group).far
		}
		a, b := of(g, ahead), of(g, behind)
		value, slope = value+(a+b)/2, slope+(a-b)/(2*probeStep)
	}
	return value, slope
}

func (g *group) isFar(p geometry.Vec) bool {
	d := p.Sub(g.centre)
	return g.bands[0].flat == 0 && d.Dot(d) > groupFar*groupFar*g.reach*g.reach
}

// far is potential by the group's multipoles.
func (g *group) far(p geometry.Vec) float64 {
	d := p.Sub(g.centre)
	r2, along := d.Dot(d), d.Dot(g.axis)
	return (g.all + (g.moment.Dot(d)+g.lengths*(1.5*along*along/r2-0.5))/r2) / (4 * math.Pi * math.Sqrt(r2))
}

// near is potential band by band.
func (g *group) near(p geometry.Vec) float64 {
	sum := 0.0
	for i, b := range g.bands {
		if g.dipole[i] == (geometry.Vec{}) {
			sum += g.charge[i] * b.potential(p)
			continue
		}
		v, j := b.flux(p)
		sum += g.charge[i]*v + j.Dot(g.dipole[i])
	}
	return sum
}
