package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"evenwall/field/search"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// rescue looks for what would bring current to wall that no layout reaches.
type rescue struct {
	*hunt
	space  search.Space
	clear  []geometry.Vec    // where bare metal may be, whatever leads there
	open   []geometry.Vec    // where the middle of a sleeve may be
	others map[string][]bool // by opening that no rod may hang in: the patches that a rod in it would reach
}

// Probes are short bare rods that hang from nothing: what they reach tells whether a place is the
// trouble, or the way to it.
const (
	probeLength  = 0.040 // m
	probes       = 10    // places looked at for each piece of wall
	probesApart  = 0.030 // m
	otherLayouts = 200   // rods tried through another opening
	leastRescue  = 0.1   // share of a piece that a remedy must reach to be one
)

func (h *hunt) newRescue(ctx context.Context) (*rescue, error) {
	w := &rescue{hunt: h, space: h.problem().Space, others: map[string][]bool{}}
	need := w.space.Clearance + w.space.Off.Position + w.space.Off.Depth + slices.Min(w.space.Radii)
	back, q := h.Turn.Inverse(), h.coarse.Laid.Liquid
	for n := range q.Keys {
		p := back.Apply(q.Point(int32(n)))
		_, _, d := h.Steel().ClosestWithin(p, need)
		if d >= need {
			w.clear = append(w.clear, p)
		}
		if d >= slices.Min(w.space.Radii)+plasticWall {
			w.open = append(w.open, p)
		}
	}
	for i := range h.Openings {
		if err := w.through(ctx, i); err != nil {
			return nil, err
		}
	}
	return w, nil
}

// through finds what a rod through opening i would reach if it were open, where it is shut and
// otherwise fit to hang one in.
func (w *rescue) through(ctx context.Context, i int) error {
	o := &w.Openings[i]
	if o.Use == vessel.Open {
		return nil
	}
	p := w.problem()
	p.Spare = nil
	p.Space.Openings = slices.Clone(w.Openings)
	for k := range p.Space.Openings {
		p.Space.Openings[k].Use = vessel.Plugged
	}
	p.Space.Openings[i].Use = vessel.Open
	if len(p.Space.Ways()) == 0 {
		return nil
	}
	set := w.settings()
	set.Reach = otherLayouts
	found, err := search.Reachable(ctx, p, set)
	var none *search.NoWayError
	if errors.As(err, &none) {
		return nil
	}
	w.others[o.Name] = found.Reachable
	return err
}

// takes says what it would take to reach a piece of wall.
func (w *rescue) takes(ctx context.Context, p *piece) ([]string, error) {
	var out []string
	for i := range w.Openings {
		name := w.Openings[i].Name
		if share := w.shareOf(p, w.others[name]); share >= leastRescue {
			out = append(out, fmt.Sprintf("would take: a rod through the %s, now %s: reaches %.0f %% of it", name, w.Openings[i].Use, 100*share))
		}
	}
	near, err := w.probe(ctx, p, w.clear, w.space.Clearance)
	if err != nil {
		return nil, err
	}
	if near.share < leastRescue {
		if len(out) > 0 {
			return out, nil
		}
		return w.tooTight(ctx, p)
	}
	bent, share, err := w.bent(ctx, p, near.reaching())
	if err != nil {
		return nil, err
	}
	if bent.Path != nil {
		keys := "anodes, bend"
		if !w.Job.Search.Bent {
			keys += ", or search.bent"
		}
		out = append(out, bent.words(share, keys))
	}
	if len(out) == 0 {
		out = append(out, w.newOpening(&near))
	}
	return out, nil
}

// shareOf returns the share of a piece that is among some patches.
func (w *rescue) shareOf(p *piece, in []bool) float64 {
	if in == nil {
		return 0
	}
	area := 0.0
	for _, i := range p.patches {
		if in[i] {
			area += w.judged().All[i].Area
		}
	}
	return area / p.area
}

// newOpening says where another opening would have to be.
func (w *rescue) newOpening(near *probed) string {
	at := near.places[0].at
	first := math.Inf(1)
	for _, c := range w.Steel().Crossings(at, w.Up, nil) {
		first = math.Min(first, c.At)
	}
	over := at.AddScaled(w.Up, first)
	if math.IsInf(first, 1) {
		over = at
	}
	return fmt.Sprintf("would take: another opening, near %v: a rod with its tip at %v reaches %.0f %% of it; neither a straight rod nor a bent one gets there through those there are", over, at, 100*near.places[0].share)
}

// tooTight says that no rod that keeps the clearance reaches a piece of wall, and whether one that
// comes nearer to steel would.
func (w *rescue) tooTight(ctx context.Context, p *piece) ([]string, error) {
	limit := fmt.Sprintf("no rod that keeps %.1f mm from steel brings it %.3g A/m2, wherever in the tank it is put: no current to speak of comes round", 1000*w.space.Clearance, w.Job.Aim.Least)
	thin := slices.Min(w.space.Radii)
	var tight []geometry.Vec
	back, q := w.Turn.Inverse(), w.coarse.Laid.Liquid
	for n := range q.Keys {
		if at, d := w.roomier(back.Apply(q.Point(int32(n)))); d > thin+leastRoom {
			tight = append(tight, at)
		}
	}
	near, err := w.probe(ctx, p, tight, leastRoom)
	if err != nil || near.share < leastRescue {
		return []string{limit}, err
	}
	at := near.places[0].at
	_, _, d := w.Steel().ClosestWithin(at, w.space.Clearance+thin)
	return []string{limit, fmt.Sprintf("would take: a smaller search.clearance, with spacers or a guard: bare metal at %v, %.1f mm from steel, reaches some of it", at, 1000*(d-thin))}, nil
}
