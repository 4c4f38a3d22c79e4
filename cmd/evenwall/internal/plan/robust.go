package plan

import (
	"context"
	"slices"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/search"
	"evenwall/field/station"
)

// offMeant tries a layout with each thing alone off by its tolerance, and with the worst of each
// at once.
func (h *hunt) offMeant(ctx context.Context, patches station.Patches, c *closeUp) (*report.OffMeant, error) {
	t, err := h.newTrial(ctx, patches, c)
	if err != nil {
		return nil, err
	}
	baths, err := t.baths(ctx)
	if err != nil {
		return nil, err
	}
	singles := append(t.hands(), baths...)
	err = t.all(ctx, singles, func(o *odd) [][]job.Anode {
		hung := make([][]job.Anode, len(t.stations))
		if o.station >= 0 {
			hung[o.station] = t.hung(o.station, map[int][]search.Slip{o.rod: {o.slip}})
		}
		return hung
	})
	if err != nil {
		return nil, err
	}
	worst, hung := t.atOnce(ctx, singles)
	if err := t.all(ctx, worst, func(*odd) [][]job.Anode { return hung }); err != nil {
		return nil, err
	}
	for _, o := range singles {
		for i := range worst {
			if ofHand := o.matter <= ofDepth; (ofHand || i > 0) && worst[i].verdict.Better(o.verdict) {
				worst[i].verdict = o.verdict // one of them alone is worse than with the others
			}
		}
	}
	return t.report(singles, worst), nil
}

// atOnce returns the cases that join the worst of each matter: those of the hand, and those of
// the bath and the rods' crust too, with where the rods hang in both.
func (t *trial) atOnce(ctx context.Context, singles []odd) (worst []odd, hung [][]job.Anode) {
	hung = make([][]job.Anode, len(t.stations))
	meant := t.judged(t.close)
	for s := range t.stations {
		off := map[int][]search.Slip{}
		for i := range t.stations[s].Anodes {
			var slips []search.Slip
			var verdicts []search.Verdict
			for _, o := range singles {
				if o.station == s && o.rod == i {
					slips, verdicts = append(slips, o.slip), append(verdicts, o.verdict)
				}
			}
			off[i] = search.WorstOfEach(slips, verdicts, meant)
		}
		hung[s] = t.hung(s, off)
	}
	all := odd{matter: ofAll, station: -1, words: "all of it at its worst at once", set: setting{basin: t.coarse}}
	if o := worstOf(singles, ofLevel, meant); o != nil {
		all.set.basin, all.set.filled = o.set.basin, true
	}
	if worstOf(singles, ofBath, meant) != nil {
		all.set.basin = all.set.basin.conducting(1 - t.Job.Search.Drift.Conductivity)
	}
	if o := worstOf(singles, ofCrust, meant); o != nil {
		all.set.crust = o.set.crust
	}
	hand := odd{matter: ofAll, station: -1, words: "the hand at its worst in every way", set: setting{basin: t.coarse}}
	return []odd{hand, all}, hung
}

// worstOf returns the worst case of a matter, nil when all are as good as meant.
func worstOf(cases []odd, of matter, meant search.Verdict) *odd {
	var worst *odd
	for i := range cases {
		if cases[i].matter == of && meant.Better(cases[i].verdict) {
			worst, meant = &cases[i], cases[i].verdict
		}
	}
	return worst
}

// report puts cases into the result, the costliest first.
func (t *trial) report(singles, worst []odd) *report.OffMeant {
	drift := t.Job.Search.Drift
	out := &report.OffMeant{PositionMM: 1000 * t.hand.Position, TiltDeg: degrees(t.hand.Tilt), DepthMM: 1000 * t.hand.Depth,
		HandAssumed: t.Job.Search.Tolerance.IsZero(), LevelMM: 1000 * drift.Level, ConductivityPercent: 100 * drift.Conductivity,
		Meant: oddOf(&odd{matter: ofNothing, words: "as meant", verdict: t.judged(t.close)}), Hand: oddOf(&worst[0]), All: oddOf(&worst[1])}
	slices.SortStableFunc(singles, func(a, b odd) int { return compare(b.verdict, a.verdict) })
	for i := range singles {
		out.Cases = append(out.Cases, oddOf(&singles[i]))
	}
	return out
}

// matterNames are what result.json calls the matters.
var matterNames = map[matter]string{ofPlace: "position", ofLean: "tilt", ofDepth: "depth", ofLevel: "level",
	ofBath: "conductivity", ofCrust: "crust", ofAll: "together"}

func oddOf(o *odd) report.Odd {
	out := report.Odd{What: o.words, Matter: matterNames[o.matter], Size: o.size, TenDays: o.verdict.After[2]}
	if hours, ever := o.verdict.Finish.Hours(); ever {
		out.Hours = &hours
	}
	return out
}
