package field

import (
	"errors"
	"fmt"
	"math"

	"evenwall/field/electrode"
	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// Anode is a rod and the law of its metal. A nil law is primary.
type Anode struct {
	Rod geometry.Rod // in the frame of the lattice
	Law electrode.Law
	Gas *electrode.Curtain // gas that rises round the rod; nil: none
}

// Supply is what drives the cell: a voltage behind a resistance, with an optional limit
// on the current.
type Supply struct {
	Voltage    float64 // open circuit, V
	Resistance float64 // charger and leads, ohm
	Limit      float64 // A; 0: none
	Dead       float64 // V that the cell takes before current flows
}

// Problem is one layout of rods in a filled tank.
type Problem struct {
	Liquid       *lattice.Liquid
	Level        float64                       // of the liquid, m
	Conductivity float64                       // of the liquid, S/m
	Layers       func(z float64) float64       // of the liquid at a height, m, over Conductivity; smooth over a spacing; nil: 1
	Wall         electrode.Law                 // nil: primary
	Normal       func(face int32) geometry.Vec // unit normal of the wall's facets, as Liquid numbers them
	Anodes       []Anode
	Supply       Supply

	// Mirrors are insulating planes that rods pass through, normals out of the liquid; nil:
	// the liquid's surface alone.
	Mirrors []geometry.Plane

	// Flat, where above 0, makes the problem one of two dimensions: the liquid is a single
	// layer of cells so thick, m, and each rod an endless cylinder through it along z, at the
	// place where its axis passes the layer.
	Flat float64

	// Held, where set, says which wall links end at an electrode of its own, primary, at a
	// given potential instead of at the wall: electrodes that the mesh itself models.
	Held func(k *lattice.Link) (volts float64, ok bool)
}

// Limits of what is taken for a conductivity, S/m: far beyond any bath. The purest water has 5.5e-6, the
// best of acids and alkalis some 85 and 63 (CRC Handbook of Chemistry and Physics, from memory).
const (
	leastConductivity = 1e-6
	mostConductivity  = 100.0
)

// ErrDry says that no bare metal of any rod is under the liquid.
var ErrDry = errors.New("no bare metal is under the liquid: lower the rod, raise the level or bare a stretch that is wetted")

// check reports what makes a problem unsolvable.
func (p *Problem) check() error {
	if !(p.Conductivity >= leastConductivity && p.Conductivity <= mostConductivity) {
		return fmt.Errorf("conductivity %g S/m is out of range: between %g and %g S/m", p.Conductivity, leastConductivity, mostConductivity)
	}
	if p.Liquid.Len() == 0 {
		return errors.New("no liquid cell: the level is too low for this spacing")
	}
	if len(p.Liquid.Walls) == 0 {
		return errors.New("no wall under the liquid: nothing takes current")
	}
	for _, a := range p.Anodes {
		if len(a.Rod.Path) < 2 || !(a.Rod.Radius > 0) {
			return fmt.Errorf("rod %q has no length or no thickness", a.Rod.Name)
		}
	}
	return nil
}

// mirrors returns the planes that the rods' own fields are mirrored in.
func (p *Problem) mirrors() []geometry.Plane {
	if p.Flat > 0 {
		return []geometry.Plane{} // nothing ends in two dimensions
	}
	if p.Mirrors != nil {
		return p.Mirrors
	}
	return []geometry.Plane{{Normal: geometry.V(0, 0, 1), Offset: p.Level}}
}

// wallLaw and anodeLaw return the laws with nil read as primary.
func (p *Problem) wallLaw() electrode.Law { return orPrimary(p.Wall) }

func (p *Problem) medium() medium { return medium{p.Conductivity, p.Layers} }

func orPrimary(l electrode.Law) electrode.Law {
	if l == nil {
		return electrode.Primary{}
	}
	return l
}

// linear reports whether a law is a plain resistance, which one round solves.
func linear(l electrode.Law) bool {
	_, slope := l.Drop(0)
	for _, j := range []float64{1e-3, 1, 1e3} {
		v, s := l.Drop(j)
		if math.Abs(s-slope) > 1e-12*slope || math.Abs(v-slope*j) > 1e-12*v {
			return false
		}
	}
	return true
}
