package search

import (
	"math"

	"evenwall/geometry"
)

// begin evaluates the layouts to start from and the naive rod, as they are.
func (r *run) begin() error {
	r.told.step, r.told.steps = 0, 0
	for _, rods := range r.Start {
		r.starts = append(r.starts, r.given(rods))
	}
	records := append([]*record(nil), r.starts...)
	if rod, ok := r.space.Naive(); ok {
		r.naive = r.given([]geometry.Rod{rod})
		records = append(records, r.naive)
	}
	var sound []*record
	for _, rec := range records {
		if rec.misfit == nil || rec.misfit.Reason == TooNear {
			sound = append(sound, rec)
		}
	}
	if err := r.evaluate(sound); err != nil {
		return err
	}
	r.judge(sound)
	return nil
}

// given returns the record of rods as they are.
func (r *run) given(rods []geometry.Rod) *record {
	rec := &record{rods: rods}
	for i := range rods {
		if p, ok := r.space.PlaceOf(&rods[i]); ok {
			rec.wish = append(rec.wish, p)
		}
		if rec.misfit == nil {
			rec.misfit = r.space.Holds(&rods[i])
		}
	}
	if len(rec.wish) < len(rods) {
		rec.wish = nil
	}
	if miss := r.space.apart(rods); rec.misfit == nil {
		rec.misfit = miss
	}
	return rec
}

// Holds returns why a rod of any form, taken as it is, breaks a limit, or nil: it must not
// meet steel, must have bare metal under the liquid, and keep the clearance with all of it.
// How it gets in is not looked at.
func (s *Space) Holds(r *geometry.Rod) *Misfit {
	if len(r.Path) < 2 {
		return &Misfit{NotIn, 0}
	}
	if gap := geometry.OutsideClearance(r, s.Steel, geometry.Span{From: 0, To: r.Length()}); gap.Distance < 0 {
		return &Misfit{HitsSteel, -gap.Distance}
	}
	if above, wet := s.lowestBare(r); !wet {
		return &Misfit{Dry, above}
	}
	d := geometry.BareClearance(r, s.Steel, nil).Distance
	if p, ok := s.PlaceOf(r); ok {
		d = s.bareClearance(p, r)
	}
	if d < s.Clearance-1e-9 {
		return &Misfit{TooNear, s.Clearance - d}
	}
	return nil
}

// lowestBare returns the height of the lowest bare point of the axis over the liquid, m,
// and whether it is under it.
func (s *Space) lowestBare(r *geometry.Rod) (above float64, wet bool) {
	above = math.Inf(1)
	for _, b := range r.Bare {
		for _, piece := range r.Pieces(b.From, b.To) {
			above = min(above, s.Surface.Height(piece[0]), s.Surface.Height(piece[1]))
		}
	}
	if math.IsInf(above, 1) {
		return 0, false
	}
	return above, above < 0
}

// apart returns why several rods cannot hang at once, or nil: their outsides must keep the
// play along all of their length and, as each straight one comes in along its own axis, above
// it too.
func (s *Space) apart(rods []geometry.Rod) *Misfit {
	full := s.withDefaults()
	for i := range rods {
		for k := range i {
			need := outside(&rods[i]) + outside(&rods[k]) + full.Play
			if d := axesApart(&rods[k], &rods[i]); d < need-1e-9 {
				return &Misfit{RodsMeet, need - d}
			}
		}
	}
	return nil
}

// axesApart returns the least distance between the axis of a rod that hangs and that of one that
// comes in after it, m.
func axesApart(hangs, comes *geometry.Rod) float64 {
	path := comes.Path
	if len(path) == 2 {
		path = geometry.Straight(path[0], drawnOut(comes))
	}
	least := math.Inf(1)
	for i := 1; i < len(hangs.Path); i++ {
		for k := 1; k < len(path); k++ {
			p, q := geometry.SegmentGap(hangs.Path[i-1], hangs.Path[i], path[k-1], path[k])
			least = min(least, p.Dist(q))
		}
	}
	return least
}

// drawnOut returns where a straight rod's upper end is when it is drawn out of the tank by
// its own length.
func drawnOut(r *geometry.Rod) geometry.Vec {
	tip, top := r.Path[0], r.Path[len(r.Path)-1]
	return top.Add(top.Sub(tip))
}

// outside returns the greatest radius of metal and sleeve, m.
func outside(r *geometry.Rod) float64 { return max(r.Radius, r.Sleeve) }
