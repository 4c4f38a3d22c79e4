package plan

import (
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// Hangs returns nil when the rods of a station can hang as they are said to: through their
// openings, their tips in the tank, nowhere through steel or each other, with bare metal
// under the liquid. The error names each rod that cannot, with place and mm.
func (t *Tank) Hangs(s job.Station) error {
	var faults []job.Fault
	var hanging []*geometry.Rod
	for i := range s.Anodes {
		a := &s.Anodes[i]
		err := t.hangs(a)
		if err == nil {
			err = parted(hanging, &a.Rod)
		}
		if err != nil {
			faults = append(faults, job.Fault{Key: t.anodeKey(s, i), Text: fmt.Sprintf("rod %q %v", a.Name, err)})
			continue
		}
		hanging = append(hanging, &a.Rod)
	}
	return t.Job.Blame(faults...)
}

// anodeKey returns where the job file has rod i of a station.
func (t *Tank) anodeKey(s job.Station, i int) string {
	for k := range t.Job.Stations {
		if len(t.Job.Stations) > 1 && t.Job.Stations[k].Name == s.Name {
			return fmt.Sprintf("stations[%d].anodes[%d]", k, i)
		}
	}
	if len(t.Job.Stations) > 0 { // the only one, or one that was picked
		return "stations"
	}
	return fmt.Sprintf("anodes[%d]", i)
}

// hangs holds one rod against the tank; its error goes on from the rod's name.
func (t *Tank) hangs(a *job.Anode) error {
	for _, check := range []func(*job.Anode) error{t.reachesOut, t.fitsOpening, t.tipInside, t.clearOfSteel, t.fittingsClear, t.bareUnderLiquid} {
		if err := check(a); err != nil {
			return err
		}
	}
	return nil
}

// reachesOut holds the top against the liquid.
func (t *Tank) reachesOut(a *job.Anode) error {
	top := a.Path[len(a.Path)-1]
	if h := t.Filling.Surface.Height(top); h <= 0 {
		return fmt.Errorf("ends under the liquid: its top %v is %.1f mm below the level: give a top above it", top, -h*1000)
	}
	return nil
}

// opening returns the opening of that name, which the job has.
func (t *Tank) opening(name string) *vessel.Opening {
	for i := range t.Openings {
		if t.Openings[i].Name == name {
			return &t.Openings[i]
		}
	}
	return nil
}

// crossing is where a rod's axis goes through the plane of an opening.
type crossing struct {
	at     geometry.Vec // on the axis
	along  geometry.Vec // of the axis, of length 1
	s      float64      // m from the tip
	offset float64      // m from the opening's middle
}

// crossingOf returns the crossing nearest to the opening's middle, false when there is none.
func crossingOf(r *geometry.Rod, o *vessel.Opening) (crossing, bool) {
	plane := geometry.PlaneThrough(o.Centre, o.Axis)
	best, start := crossing{offset: math.Inf(1)}, 0.0
	for i := 1; i < len(r.Path); i++ {
		a, b := r.Path[i-1], r.Path[i]
		ha, hb := plane.Height(a), plane.Height(b)
		if (ha < 0) != (hb < 0) {
			f := ha / (ha - hb)
			p := crossing{at: a.Lerp(b, f), along: b.Sub(a).Unit(), s: start + f*a.Dist(b)}
			if p.offset = p.at.Dist(o.Centre); p.offset < best.offset {
				best = p
			}
		}
		start += a.Dist(b)
	}
	return best, !math.IsInf(best.offset, 1)
}

// fitsOpening holds the rod, with its sleeve, against the opening that it hangs in.
func (t *Tank) fitsOpening(a *job.Anode) error {
	o := t.opening(a.Through)
	if o == nil {
		return nil
	}
	p, ok := crossingOf(&a.Rod, o)
	rim := o.Diameter / 2
	const slack = 1e-6 // m
	switch thick := thickest(&a.Rod, p.s); {
	case !ok:
		return fmt.Errorf("does not pass through the opening %s: tip %v and top %v are on the same side of its rim",
			o.Name, a.Path[0], a.Path[len(a.Path)-1])
	case p.offset > rim:
		return fmt.Errorf("misses the opening %s: its axis passes %.1f mm from the middle, the rim is at %.1f mm: move it", o.Name, p.offset*1000, rim*1000)
	case 2*thick > o.Diameter+slack:
		return fmt.Errorf("is %.1f mm thick with its sleeve, the opening %s is %.1f mm wide: take a thinner rod or sleeve", 2000*thick, o.Name, o.Diameter*1000)
	}
	if over := overRim(p, o, outsideAt(&a.Rod, p.s)); over > slack {
		return fmt.Errorf("cuts the rim of the opening %s by %.1f mm: move it to the middle, lean it less, or take a thinner rod or sleeve", o.Name, over*1000)
	}
	return nil
}

// outsideAt returns the outside radius of metal or sleeve at s metres from the tip.
func outsideAt(r *geometry.Rod, s float64) float64 {
	for _, bare := range r.Bare {
		if s >= bare.From && s <= bare.To {
			return r.Radius
		}
	}
	return math.Max(r.Radius, r.Sleeve)
}

// thickest returns the largest outside radius from the tip up to s: what has to be passed
// through the opening.
func thickest(r *geometry.Rod, s float64) float64 {
	radius, at := r.Radius, 0.0
	for _, bare := range r.Bare {
		if bare.From > at && at < s {
			radius = math.Max(radius, r.Sleeve)
		}
		at = bare.To
	}
	if at < s {
		radius = math.Max(radius, r.Sleeve)
	}
	return radius
}

// overRim returns how far the section of a round rod by the opening's plane, an ellipse,
// reaches beyond the rim, m; negative inside.
func overRim(p crossing, o *vessel.Opening, radius float64) float64 {
	normal := o.Axis.Unit()
	cos := math.Abs(p.along.Dot(normal))
	lean := p.along.AddScaled(normal, -p.along.Dot(normal)).Unit()
	if lean == (geometry.Vec{}) {
		lean, _ = normal.Perpendicular()
	}
	across := normal.Cross(lean)
	const sides = 360
	far := 0.0
	for k := range sides {
		sin, c := math.Sincos(2 * math.Pi * float64(k) / sides)
		q := p.at.AddScaled(lean, radius*c/cos).AddScaled(across, radius*sin)
		far = math.Max(far, q.Dist(o.Centre))
	}
	return far - o.Diameter/2
}

// tipInside holds the tip against the shell.
func (t *Tank) tipInside(a *job.Anode) error {
	tip := a.Path[0]
	if t.inside.holds(tip) {
		return nil
	}
	wall, _, d := t.inside.tree.Closest(tip)
	return fmt.Errorf("has its tip outside the tank: %v is %.1f mm beyond the wall at %v: raise or move it", tip, d*1000, wall)
}

// clearOfSteel holds metal and sleeve against wall and baffles.
func (t *Tank) clearOfSteel(a *job.Anode) error {
	const slack = 2e-4 // m; a rim is cut out of the facets to about that
	g := geometry.OutsideClearance(&a.Rod, t.Steel(), geometry.Span{From: 0, To: a.Length()})
	if g.Distance >= -slack {
		return t.noShort(a)
	}
	return fmt.Errorf("goes through the %s at %v, %.1f mm deep: move, lean or shorten it", t.steelAt(g.Face), g.OnWall, -g.Distance*1000)
}

// touching is the gap, m, that is no gap: no tank is measured so closely.
const touching = 0.5e-3

// noShort holds bare metal off all steel.
func (t *Tank) noShort(a *job.Anode) error {
	g := geometry.BareClearance(&a.Rod, t.Steel(), nil)
	if g.Distance >= touching {
		return nil
	}
	return fmt.Errorf("touches the %s with bare metal at %v, a SHORT: move it, lean it, or sleeve it there", t.steelAt(g.Face), g.OnWall)
}

// steelAt names the part of the tank that a facet is of.
func (t *Tank) steelAt(face int32) string {
	if k := int(face); k < len(t.Wall.Kind) && t.Wall.Kind[k] == vessel.Baffle {
		return "baffle"
	}
	return "wall"
}

// fittingsClear holds spacers and guard against wall and baffles.
func (t *Tank) fittingsClear(a *job.Anode) error {
	const slack = 2e-4 // m, as of clearOfSteel
	g := geometry.AroundClearance(&a.Rod, t.Steel(), t.holdOf(a).S)
	if g.Distance >= -slack {
		return nil
	}
	return fmt.Errorf("has a spacer or guard that goes %.1f mm into steel at %v: take a smaller one, or move it", -g.Distance*1000, g.OnWall)
}

// bareUnderLiquid holds the bare stretches against the level.
func (t *Tank) bareUnderLiquid(a *job.Anode) error {
	for _, bare := range a.Bare {
		for _, piece := range a.Pieces(bare.From, bare.To) {
			if t.Filling.Surface.Height(piece[0]) < 0 || t.Filling.Surface.Height(piece[1]) < 0 {
				return nil
			}
		}
	}
	return fmt.Errorf("has no bare metal under the liquid, whose level is %.1f mm: lower it, bare more of it, or fill higher", t.Filling.Height*1000)
}

// parted holds a rod against others.
func parted(others []*geometry.Rod, r *geometry.Rod) error {
	for _, other := range others {
		if g := geometry.RodGap(other, r); g.Distance < 0 {
			return fmt.Errorf("touches rod %q at %v: move one of them", other.Name, g.OnRod)
		}
	}
	return nil
}
