package search

import (
	"math"

	"evenwall/geometry"
)

// SlipKind is what a hand gets wrong.
type SlipKind int

const (
	Shifted SlipKind = iota // at the rim, in its plane
	Leaned                  // about the point at the rim
	Slid                    // along the rod
	Spun                    // about itself, a bent rod: the lean's tolerance is of this turn too
)

// shares returns the kind whose tolerance a kind has a part in.
func (k SlipKind) shares() SlipKind {
	if k == Spun {
		return Leaned
	}
	return k
}

// Slip is one thing that a hand gets wrong when it hangs a rod.
type Slip struct {
	Kind   SlipKind
	Toward geometry.Vec // of length 1: the way the rod is shifted, its tip swings or it slides; of Spun the axis, from which it turns anticlockwise
	Size   float64      // m, or rad for Leaned and Spun
}

// Slips returns each tolerance of the hand alone at its end: a shift and a lean in so many
// directions all round, beginning at +x, a turn of a bent rod and a slide either way. What has no
// tolerance is left out.
func Slips(r *geometry.Rod, hold geometry.Hold, off geometry.Play, around int) []Slip {
	var slips []Slip
	ring := func(kind SlipKind, normal geometry.Vec, size float64) {
		u := levelTo(normal)
		v := normal.Cross(u)
		for k := range around {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(around))
			slips = append(slips, Slip{kind, u.Scale(cos).AddScaled(v, sin), size})
		}
	}
	if off.Position > 0 {
		ring(Shifted, hold.Normal, off.Position)
	}
	if off.Tilt > 0 {
		ring(Leaned, hold.Along, off.Tilt)
		if !r.IsStraight() {
			slips = append(slips, Slip{Spun, hold.Along, off.Tilt}, Slip{Spun, hold.Along.Scale(-1), off.Tilt})
		}
	}
	if off.Depth > 0 {
		slips = append(slips, Slip{Slid, hold.Along, off.Depth}, Slip{Slid, hold.Along.Scale(-1), off.Depth})
	}
	return slips
}

// levelTo returns the direction square to a normal that is nearest to +x, or to +y where the
// normal itself runs along x.
func levelTo(normal geometry.Vec) geometry.Vec {
	u := geometry.V(1, 0, 0)
	if math.Abs(normal.X) > 0.9 {
		u = geometry.V(0, 1, 0)
	}
	return u.AddScaled(normal, -u.Dot(normal)).Unit()
}

// Slipped returns how a rod hangs with the given share, 0 to 1, of some slips, one of each
// kind at most.
func Slipped(hold geometry.Hold, share float64, slips ...Slip) geometry.Placement {
	p := geometry.Nominal()
	for _, s := range slips {
		switch s.Kind {
		case Shifted:
			p.Shift = s.Toward.Scale(share * s.Size)
		case Leaned:
			p.Turn = geometry.RotationAbout(s.Toward.Cross(hold.Along), share*s.Size)
		case Spun:
			p.Turn = geometry.RotationAbout(s.Toward, share*s.Size)
		case Slid:
			p.Slide = s.Toward.Dot(hold.Along) * share * s.Size
		}
	}
	return p
}

// slipSteps is in how many steps a slip is taken back that steel stops.
const slipSteps = 8

// Slip returns the rod hung with some slips, one of each kind at most, and the share of them, 0
// to 1, that steel allows: metal and sleeve go no farther than to touch it.
func (s *Space) Slip(r *geometry.Rod, hold geometry.Hold, slips ...Slip) (moved geometry.Rod, share float64) {
	for left := slipSteps; left > 0; left-- {
		share = float64(left) / slipSteps
		moved = r.Moved(hold, Slipped(hold, share, slips...))
		if geometry.OutsideClearance(&moved, s.Steel, geometry.Span{From: 0, To: moved.Length()}).Distance >= 0 {
			return moved, share
		}
	}
	return *r, 0
}

// Hold returns where a rod of any form is held: where its axis goes through the plane of an
// opening that a rod can hang in, nearest to the opening's middle, and at its top when it
// goes through none.
func (s *Space) Hold(r *geometry.Rod) geometry.Hold {
	top := r.Length()
	at, along := r.At(top)
	hold := geometry.Hold{At: at, Along: along, Normal: along, S: top}
	nearest := math.Inf(1)
	for _, i := range s.Ways() {
		o := &s.Openings[i]
		plane, start := geometry.PlaneThrough(o.Centre, o.Axis.Unit()), 0.0
		for k := 1; k < len(r.Path); k++ {
			a, b := r.Path[k-1], r.Path[k]
			ha, hb := plane.Height(a), plane.Height(b)
			if (ha < 0) != (hb < 0) {
				p := a.Lerp(b, ha/(ha-hb))
				if d := p.Dist(o.Centre); d < nearest && d <= o.Diameter/2 {
					nearest = d
					hold = geometry.Hold{At: p, Along: b.Sub(a).Unit(), Normal: o.Axis.Unit(), S: start + a.Dist(p)}
				}
			}
			start += a.Dist(b)
		}
	}
	return hold
}

// WorstOfEach returns for each kind the slip with the worst verdict, in the order of the
// kinds, of leans and turns one; kinds whose slips are all as good as base or better are left out.
func WorstOfEach(slips []Slip, verdicts []Verdict, base Verdict) []Slip {
	var out []Slip
	for kind := Shifted; kind <= Slid; kind++ {
		at, worst := -1, base
		for i, s := range slips {
			if s.Kind.shares() == kind && worst.Better(verdicts[i]) {
				at, worst = i, verdicts[i]
			}
		}
		if at >= 0 {
			out = append(out, slips[at])
		}
	}
	return out
}
