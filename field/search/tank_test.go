package search

import (
	"context"
	"math"
	"sync/atomic"

	"evenwall/field/station"
	"evenwall/geometry"
	"evenwall/geometry/shape"
	"evenwall/geometry/vessel"
)

const hour = 3600.0

// usual is the aim of common practice: 150 A h/m², 1 to 50 A/m², 95 %.
func usual() station.Aim { return station.Aim{Charge: 150 * hour, Least: 1, Most: 50, Share: 0.95} }

// boxTank is a sharp box with its filler in the roof, at some distance from the middle,
// full to the brim.
type boxTank struct {
	box    shape.Box
	filler vessel.Opening
	wall   geometry.Mesh
}

func newBoxTank(length, width, height, offset float64) boxTank {
	b := boxTank{box: shape.Box{Length: length, Width: width, Height: height}}
	b.filler = vessel.Opening{Name: "filler", Centre: geometry.V(offset, 0, height), Axis: geometry.V(0, 0, 1), Diameter: 0.060}
	mesh := b.box.Mesh(0.02)
	b.wall, _, _, _ = b.filler.Disc().Cut(&mesh)
	return b
}

func (b boxTank) space() Space {
	return Space{
		Openings: []vessel.Opening{b.filler}, Steel: geometry.NewTree(&b.wall),
		Surface: geometry.Plane{Normal: geometry.V(0, 0, 1), Offset: b.box.Height},
		Radii:   []float64{0.005}, Clearance: 0.025,
	}
}

// glow is a made-up field that can be written down: a rod's current spreads from twelve
// points of its bare stretches alike in all directions, as light does, and grows with the
// bare length towards a limit. It shares with the real one that near wall gets most.
type glow struct {
	at, normal []geometry.Vec
	area       []float64
	limit      float64 // A
	calls      *atomic.Int64
}

// glowOn puts patches of about size metres on the inside of a box.
func glowOn(b boxTank, size float64) *glow {
	g := &glow{limit: 6, calls: new(atomic.Int64)}
	bounds := b.box.Bounds()
	for axis := range 3 {
		u, v := (axis+1)%3, (axis+2)%3
		side := bounds.Size()
		nu, nv := int(math.Round(side.Axis(u)/size)), int(math.Round(side.Axis(v)/size))
		du, dv := side.Axis(u)/float64(nu), side.Axis(v)/float64(nv)
		for _, end := range []geometry.Vec{bounds.Min, bounds.Max} {
			for i := range nu {
				for k := range nv {
					p := bounds.Min.WithAxis(axis, end.Axis(axis))
					p = p.WithAxis(u, bounds.Min.Axis(u)+(float64(i)+0.5)*du).WithAxis(v, bounds.Min.Axis(v)+(float64(k)+0.5)*dv)
					g.at = append(g.at, p)
					g.normal = append(g.normal, geometry.Vec{}.WithAxis(axis, math.Copysign(1, end.Axis(axis)-bounds.Centre().Axis(axis))))
					g.area = append(g.area, du*dv)
				}
			}
		}
	}
	return g
}

const glowPoints = 12

func (g *glow) Evaluate(_ context.Context, rods []geometry.Rod) (Exposure, error) {
	g.calls.Add(1)
	e := Exposure{Rate: make([]float64, len(g.at))}
	for i := range rods {
		g.shine(&rods[i], &e)
	}
	e.AtLimit = g.limit * float64(len(rods)) / e.Current
	return e, nil
}

func (g *glow) shine(r *geometry.Rod, e *Exposure) {
	length := 0.0
	for _, b := range r.Bare {
		length += b.Length()
	}
	current := g.limit * length / (length + 0.050)
	for n := range glowPoints {
		along := length * (float64(n) + 0.5) / glowPoints
		if first := r.Bare[0].Length(); along > first {
			along += r.Bare[1].From - r.Bare[0].To
		}
		p, _ := r.At(r.Bare[0].From + along)
		for i, x := range g.at {
			d := x.Sub(p)
			r2 := d.Dot(d)
			e.Rate[i] += current / glowPoints / (4 * math.Pi * r2) * math.Abs(d.Dot(g.normal[i])) / math.Sqrt(r2)
		}
	}
	e.Current += current
	e.AnodeMost = max(e.AnodeMost, current/(2*math.Pi*r.Radius*length))
}

// problem is the search in a box with its glow; the metal's own limit far away.
func problem(b boxTank, size float64) (*Problem, *glow) {
	g := glowOn(b, size)
	return &Problem{Space: b.space(), Evaluator: g, Area: g.area, Aim: usual()}, g
}

// unlimited leaves the metal's own limit out: a glow knows no field near the rod.
func unlimited() Settings { return Settings{AnodeLimit: 1e9} }

func areaOf(area []float64) float64 {
	sum := 0.0
	for _, a := range area {
		sum += a
	}
	return sum
}
