package plan

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/passage"
)

// How a bent rod to a place is looked for.
const (
	bendRadius  = 0.025 // of the axis, m: what a bench vice does to a rod of 10 mm; common practice, no source
	bentBare    = 0.080 // bare at its tip, m, or all of the leg where that is shorter
	mostBend    = 110 * math.Pi / 180
	corners     = 400 // places looked at for its corner
	threadings  = 8   // rods looked at for a way in, for each piece
	eachTip     = 2   // of them for each place of the tip
	threadPoses = 300 // poses looked at for each of them
	atOnce      = 2   // of them looked at side by side
)

// bent looks for a rod bent once, through an opening that rods hang in, that reaches a piece of wall with
// its tip at one of the places: the first that goes in, and which share. It has no path when there is none.
func (w *rescue) bent(ctx context.Context, p *piece, tips []geometry.Vec) (bentAnode, float64, error) {
	var rods []bentAnode
	for _, tip := range tips {
		to := w.bentTo(tip)
		rods = append(rods, to[:min(eachTip, threadings-len(rods), len(to))]...)
	}
	for from := 0; from < len(rods); from += atOnce {
		now := rods[from:min(len(rods), from+atOnce)]
		in := make([]bool, len(now))
		if err := sideBySide(ctx, len(now), func(i int) error {
			a := &now[i]
			o := w.opening(a.Through)
			in[i], _ = passage.Passes(passage.Way{Rod: &a.Rod, Hold: w.holdOf(&a.Anode), Steel: w.Steel(), Rim: o.Diameter / 2, Patience: threadPoses})
			return nil
		}); err != nil {
			return bentAnode{}, 0, err
		}
		for i := range now {
			if !in[i] {
				continue
			}
			reached, err := w.reachedFrom(ctx, now[i].Rod)
			if err != nil {
				return bentAnode{}, 0, err
			}
			if share := w.shareOf(p, reached); share >= leastRescue {
				return now[i], share, nil
			}
		}
	}
	return bentAnode{}, 0, nil
}

// words says where the rod hangs, which share of a piece of wall it reaches, and the keys that bring one.
func (best *bentAnode) words(most float64, keys string) string {
	return fmt.Sprintf("would take: a rod of %.1f mm bent by %.0f degrees (%s): through the %s, corner at %v, tip at %v, bare for %.0f mm: goes in, and reaches %.0f %% of it",
		2000*best.Radius, degrees(best.Turning()), keys, best.Through, best.corner, best.Path[0], 1000*best.Bare[0].To, 100*most)
}

// bentAnode is a rod bent once.
type bentAnode struct {
	job.Anode
	corner geometry.Vec
}

// bentTo returns rods bent once with their tip at a place that fit the tank, the least bent first.
func (w *rescue) bentTo(tip geometry.Vec) []bentAnode {
	var out []bentAnode
	step := max(1, len(w.open)/corners)
	for _, i := range w.space.Ways() {
		o := &w.Openings[i]
		for k := 0; k < len(w.open); k += step {
			if a, ok := w.bentOver(tip, w.open[k], o.Centre); ok {
				a.Through = o.Name
				out = append(out, a)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b bentAnode) int { return cmp.Compare(a.Turning(), b.Turning()) })
	return out
}

// plasticWall and aboveRim are the sleeve's wall and how far such a rod stands out, m.
const (
	plasticWall = 0.002
	aboveRim    = 0.060
)

// bentOver returns the rod with its tip and corner at two places that goes out through the middle of an
// opening, where it fits.
func (w *rescue) bentOver(tip, corner, through geometry.Vec) (bentAnode, bool) {
	shank, leg := through.Sub(corner), corner.Sub(tip)
	if shank.Norm() < bendRadius || leg.Norm() < bendRadius || shank.Unit().Dot(leg.Unit()) < math.Cos(mostBend) {
		return bentAnode{}, false
	}
	radius := slices.Min(w.space.Radii)
	a := bentAnode{corner: corner}
	a.Name, a.Law, a.Radius, a.Sleeve = "bent rod", w.law, radius, radius+plasticWall
	a.Bare = []geometry.Span{{To: math.Min(bentBare, leg.Norm())}}
	for _, piece := range [2][2]geometry.Vec{{tip, corner}, {corner, through}} {
		if _, _, _, d := w.Steel().SegmentWithin(piece[0], piece[1], a.Sleeve); d < a.Sleeve {
			return bentAnode{}, false
		}
	}
	path, err := geometry.Bent(tip, corner, through.AddScaled(shank.Unit(), aboveRim), bendRadius)
	if err != nil {
		return bentAnode{}, false // no room for the arc
	}
	a.Path = path
	return a, w.space.Holds(&a.Rod) == nil
}
