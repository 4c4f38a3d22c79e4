package plan

import (
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// Near is a gap with the rod that it is measured from.
type Near struct {
	geometry.Gap
	Rod string
}

// Gaps are how near the bare metal of rods comes to steel.
type Gaps struct {
	Wet Near // metal under the liquid to wetted wall or baffle, as the rods are said to hang
	All Near // all bare metal to all steel, dry wall and rim included, likewise
	Off Off  // with the hand off by the job's tolerance, the rod's droop then, and what lies on the floor
}

// Off is the worst case, of all bare metal to all steel.
type Off struct {
	geometry.WorstGap
	Rod   string
	Free  float64 // without spacers and guard, m; Distance is with them
	Droop float64 // of the tip, m; counted when the job states a tolerance
}

// Worst returns the least that bare metal may have to steel, m.
func (g *Gaps) Worst() float64 {
	return math.Min(g.Off.Distance, math.Min(g.Wet.Distance, g.All.Distance))
}

// atWorst says that the worst is one of the hand, " at worst", or nothing when it is not.
func (g *Gaps) atWorst() string {
	if g.Worst() < math.Min(g.Wet.Distance, g.All.Distance)-1e-6 {
		return " at worst"
	}
	return ""
}

// Gaps returns the gaps of rods that hang in the tank. Each must have bare metal under the
// liquid.
func (t *Tank) Gaps(anodes []job.Anode) Gaps {
	far := Near{Gap: geometry.Gap{Distance: math.Inf(1), Face: -1}}
	g := Gaps{Wet: far, All: far}
	g.Off.Gap, g.Off.Free = far.Gap, math.Inf(1)
	for i := range anodes {
		r := &anodes[i].Rod
		g.Wet = nearer(g.Wet, geometry.BareClearance(r, t.Wetted(), &t.Filling.Surface), r)
		g.All = nearer(g.All, geometry.BareClearance(r, t.Steel(), nil), r)
		if off := t.off(&anodes[i]); off.Distance < g.Off.Distance {
			g.Off = off
		}
	}
	return g
}

func nearer(best Near, g geometry.Gap, r *geometry.Rod) Near {
	if g.Distance < best.Distance {
		return Near{g, r.Name}
	}
	return best
}

// Rods and sleeves by what they are made of (common tables): mild steel 200 GPa and
// 7850 kg/m³, graphite 10 GPa and 1750 kg/m³, plastic 1400 kg/m³.
const (
	steelModulus    = 200e9 // Pa
	steelDensity    = 7850  // kg/m³
	graphiteModulus = 10e9  // Pa
	graphiteDensity = 1750  // kg/m³
	sleeveDensity   = 1400  // kg/m³
	gravity         = 9.80665
)

// playOf returns how far off a rod may hang: the job's tolerance with the rod's droop, or
// nothing when the job states none.
func (t *Tank) playOf(a *job.Anode) geometry.Play {
	off := t.Job.Search.Tolerance
	if off.IsZero() {
		return geometry.Play{}
	}
	return geometry.Play{Position: off.Position, Tilt: off.Tilt, Depth: off.Depth, Droop: t.droopOf(a)}
}

// droopOf returns the droop of a dry rod clamped where it goes through its opening; liquid
// would carry an eighth of a steel rod. A flexible anode has none: its course is taken as
// it is given.
func (t *Tank) droopOf(a *job.Anode) geometry.Droop {
	along, down := t.holdOf(a).Along, t.Up.Scale(-1)
	aside := down.AddScaled(along, -down.Dot(along)) // only what is square to the rod bends it
	if a.Slack > 0 || aside.Norm() < 1e-6 {
		return geometry.Droop{}
	}
	modulus, density := steelModulus, float64(steelDensity)
	if a.Law.Oxygen == job.OnGraphite {
		modulus, density = graphiteModulus, graphiteDensity
	}
	metal := math.Pi * a.Radius * a.Radius
	plastic := math.Pi*math.Pow(math.Max(a.Sleeve, a.Radius), 2) - metal
	weight := gravity * (density*metal + sleeveDensity*plastic)
	return geometry.Droop{Load: aside.Scale(weight), Stiffness: modulus * math.Pi / 4 * math.Pow(a.Radius, 4)}
}

// holdOf returns where a rod is held: in the plane of its opening.
func (t *Tank) holdOf(a *job.Anode) geometry.Hold {
	if o := t.opening(a.Through); o != nil {
		if p, ok := crossingOf(&a.Rod, o); ok {
			return geometry.Hold{At: p.at, Along: p.along, Normal: o.Axis.Unit(), S: p.s}
		}
	}
	s := a.Length()
	at, along := a.At(s)
	return geometry.Hold{At: at, Along: along, Normal: along, S: s}
}

// off returns the worst case of one rod.
func (t *Tank) off(a *job.Anode) Off {
	hold, p := t.holdOf(a), t.playOf(a)
	droop := t.droopOf(a).At(hold.S, hold.S).Norm()
	worst := geometry.WorstClearance(&a.Rod, t.Silted(), hold, p)
	out := Off{worst, a.Name, worst.Distance, droop}
	if p.IsZero() {
		return out
	}
	if len(a.Spacers) > 0 {
		out.WorstGap = geometry.HeldClearance(&a.Rod, t.Silted(), hold, p)
	}
	if left := a.Guard.Outside - a.Radius; a.Guard.Outside > 0 && left > out.Distance {
		out.Distance, out.Attained = left, left
	}
	return out
}

// withSludge returns all steel with what lies on the floor, for distances: facets that face up, within 45
// degrees, are raised along the plumb line by its depth.
func (t *Tank) withSludge() *geometry.Tree {
	depth := t.Job.Tank.Sludge
	if depth == 0 {
		return t.Steel()
	}
	raised := geometry.Mesh{}
	w := &t.Wall
	for i, f := range w.Mesh.Faces {
		up := -w.Mesh.Triangle(i).Normal().Dot(t.Up)
		if w.Kind[i] == vessel.Baffle {
			up = math.Abs(up)
		}
		if up < math.Sqrt2/2 {
			continue
		}
		n := int32(len(raised.Vertices))
		for _, k := range f {
			raised.Vertices = append(raised.Vertices, w.Mesh.Vertices[k].AddScaled(t.Up, depth))
		}
		raised.Faces = append(raised.Faces, [3]int32{n, n + 1, n + 2})
	}
	raised.Append(w.Mesh)
	return t.withRims(&raised)
}
