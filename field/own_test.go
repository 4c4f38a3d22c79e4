package field

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/floats"

	"evenwall/geometry"
)

// The potential by groups of bands is that of the bands one by one: of a sleeved rod that leans
// under the surface of a liquid in layers, at points all about it, within the 1e-4 that a band's own rule
// leaves and as much of the groups, of currents as uneven as can be.
func TestOwnPotentialIsTheBands(t *testing.T) {
	r := geometry.Rod{Radius: 5e-3, Sleeve: 9e-3, Path: geometry.Straight(geometry.V(0.03, 0, 0), geometry.V(0, 0.05, 0.25)),
		Bare: []geometry.Span{{From: 0.02, To: 0.09}, {From: 0.12, To: 0.16}}}
	surface := []geometry.Plane{{Normal: geometry.V(0, 0, 1), Offset: 0.2}}
	b := newBody(bandsOf(&r, 0, surface), surface)
	random := rand.New(rand.NewPCG(5, 6))
	q := make([]float64, b.columns())
	for i := range q {
		q[i] = random.Float64()
		if i >= b.metal {
			q[i] *= 1e-3
		}
	}
	b.thin = make([]float64, len(q)) // as a liquid of layers has it
	for i := range b.thin {
		b.thin[i] = 0.5 + random.Float64()
	}
	o := b.own(q)
	v, slope := make([]float64, len(q)), make([]float64, len(q))
	for range 400 {
		along := 0.25 * random.Float64()
		at, axis := r.At(along)
		aside, _ := axis.Perpendicular()
		p := at.AddScaled(aside, 0.015+0.1*random.Float64())
		b.fields(p, v)
		want := floats.Dot(v, q)
		assert.InEpsilon(t, want, o.potential(p), 2e-4, "%v", p)
		b.fluxes(p, aside, v, slope)
		value, rises := o.line(p, aside)
		assert.InEpsilon(t, want, value, 2e-4, "%v", p)
		assert.InDelta(t, -floats.Dot(slope, q), rises, 2e-3*want/0.015, "%v", p)
	}
}
