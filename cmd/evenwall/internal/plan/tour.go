package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/search"
	"evenwall/field/station"
)

// tour is a search for positions in turn of a tank that is turned between them.
type tour struct {
	hunts  []*hunt // of each attitude, on one wall
	fine   []*Basin
	reach  []float64 // what single rods reach in each attitude, m²
	counts []bool    // what they reach in any
}

// layoutTour is Layout over several attitudes.
func layoutTour(ctx context.Context, j *job.Job, show Progress) (*report.Answer, error) {
	if len(j.Aim.Spare) > 0 {
		return nil, j.Blame(job.Fault{Key: "aim.spare", Text: "with search.attitudes: not supported yet: leave out one of the two"})
	}
	t, err := newTour(ctx, j, show)
	if err != nil {
		return nil, err
	}
	problems, err := t.problems(ctx, show)
	if err != nil {
		return nil, err
	}
	first := t.hunts[0]
	settings := first.settings()
	settings.Progress = func(stage search.Stage, step, steps int) { show(stage.String(), step, steps) }
	found, err := search.SearchTour(ctx, problems, settings)
	var none *search.NoWayError
	if errors.As(err, &none) {
		return first.nothing(none), nil
	}
	if err != nil {
		return nil, first.blame(err)
	}
	show("solving the best closely", 0, 0)
	return t.answer(ctx, found)
}

// newTour props and lays the tank in each attitude, and makes the wall that they have in common.
func newTour(ctx context.Context, j *job.Job, show Progress) (*tour, error) {
	t := &tour{}
	start := j.First()
	var tanks []*Tank
	for i, a := range j.Search.Attitudes {
		tank, err := propped(ctx, j, tanks, a)
		if err != nil {
			return nil, inAttitude(a, err)
		}
		tanks = append(tanks, tank)
		show("laying the lattice", i+1, len(j.Search.Attitudes))
		b, err := tank.NewBasin(tanks[0].judgeSpacing())
		if err != nil {
			return nil, err
		}
		start.Attitude = a
		t.hunts = append(t.hunts, b.hunt(start))
	}
	wall := newCommonWall(tanks, t.hunts[0].coarse.Recovery().Patches.H)
	for k, h := range t.hunts {
		h.wall, h.attitude, h.way = wall, k, wall.from(h.coarse, k)
	}
	if at := slices.Index(j.Search.Attitudes, j.First().Attitude); at > 0 { // where the job begins
		begin := t.hunts[at]
		t.hunts = slices.Insert(slices.Delete(t.hunts, at, at+1), 0, begin)
	}
	t.fine = make([]*Basin, len(t.hunts))
	return t, nil
}

// inAttitude says in which attitude something is wrong.
func inAttitude(a job.Attitude, err error) error {
	return fmt.Errorf("search.attitudes, %s: %w", report.AttitudeWords(degrees(a.Pitch), degrees(a.Roll)), err)
}

// propped returns the tank of a job in an attitude, read once for all.
func propped(ctx context.Context, j *job.Job, before []*Tank, a job.Attitude) (*Tank, error) {
	if len(before) == 0 {
		return NewTank(ctx, j, a)
	}
	return before[0].Propped(ctx, a)
}

// problems poses the search in each attitude, once it is known what rods in any of them reach.
func (t *tour) problems(ctx context.Context, show Progress) ([]*search.Problem, error) {
	var out []*search.Problem
	t.counts = make([]bool, len(t.hunts[0].wall.All))
	for i, h := range t.hunts {
		show("tables of layouts", i, len(t.hunts))
		if err := h.screen.build(ctx); err != nil {
			return nil, inAttitude(h.start.Attitude, h.blame(err))
		}
		p := h.problem()
		out = append(out, p)
		reached, err := search.Reachable(ctx, p, h.settings())
		var none *search.NoWayError
		if err != nil && !errors.As(err, &none) {
			return nil, inAttitude(h.start.Attitude, h.blame(err))
		}
		area := 0.0 // where no rod fits
		if err == nil {
			area = reached.ReachableArea()
		}
		for k, yes := range reached.Reachable {
			t.counts[k] = t.counts[k] || yes
		}
		t.reach = append(t.reach, area)
	}
	for _, p := range out {
		p.Counts = t.counts
	}
	return out, nil
}

// answer solves what was found closely: the way of one attitude alone where all positions are in
// it, or where the others do not save their price by the close solution.
func (t *tour) answer(ctx context.Context, found *search.Tour) (*report.Answer, error) {
	alone := slices.IndexFunc(found.Results, func(r *search.Result) bool { return r != nil })
	if one := slices.Compact(slices.Sorted(slices.Values(found.Attitude))); len(one) == 1 {
		alone = one[0]
		found.Results[alone].Stations, found.Results[alone].Schedule = found.Stations, found.Schedule
	} else {
		a, err := t.mixed(ctx, found, alone)
		if a != nil || err != nil {
			return a, err
		}
	}
	a, err := t.hunts[alone].answer(ctx, found.Results[alone])
	if err != nil {
		return nil, err
	}
	t.finish(a, []int{alone})
	return a, nil
}

// mixed is the answer for positions in several attitudes; nil where they do not save their price
// over those of one attitude alone by the close solution.
func (t *tour) mixed(ctx context.Context, found *search.Tour, alone int) (*report.Answer, error) {
	base, h := found.Results[alone], t.hunts[alone]
	fine, err := t.fineOf(alone)
	if err != nil {
		return nil, err
	}
	single, err := h.closely(ctx, base, fine)
	if err != nil {
		return nil, err
	}
	c, err := t.closely(ctx, found, base.Patches)
	if err != nil {
		return nil, err
	}
	price := c.price() - single.price()
	if !search.Worth(aimOf(h.Job.Aim), c.schedule, single.schedule, math.Max(0, price)) {
		return nil, nil
	}
	return t.answerMixed(ctx, found, alone, c)
}

// answerMixed gathers the figures of positions in several attitudes, which begin in the first one's.
func (t *tour) answerMixed(ctx context.Context, found *search.Tour, alone int, c *closeUp) (*report.Answer, error) {
	base, h := found.Results[alone], t.hunts[alone]
	begin := c.solved[0].Basin.Tank
	never := h.neverReached(t.counts)
	c.solved[0].never = h.paintOf(&never)
	a, err := begin.currentAnswer("layout", c.solved[0])
	if err != nil {
		return nil, err
	}
	r := &a.Result
	r.Search = &report.Search{ReachableM2: base.Patches.ReachableArea()}
	for _, one := range found.Results {
		if one != nil {
			r.Search.Tried += one.Tally.Tried
			r.Search.Refused += one.Tally.Tried - one.Tally.Fit()
		}
	}
	shown := []shownLayout{{name: "this layout", densities: c.onto, seconds: c.seconds()}}
	if base.Naive != nil {
		var onto []float64
		if r.Search.Naive, onto, err = h.naive(ctx, base, t.fine[alone]); err != nil {
			return nil, err
		}
		shown = append(shown, shownLayout{name: "plumb rod instead", densities: [][]float64{onto}})
	}
	r.Laws = h.byLaws(base.Patches, shown)
	for i, s := range c.stations {
		gaps := c.solved[i].Basin.Gaps(s.Anodes)
		check := gaps.check(h.Job.Search.Clearance)
		check.Name += ", " + s.Name
		r.Checks = append(r.Checks, check)
	}
	if err := h.nameUnreached(ctx, &never, r); err != nil {
		return nil, err
	}
	h.finish(a, c, &base.Tally)
	t.sayLiquid(r, c)
	r.Warnings = append(r.Warnings, "what it costs when the hand, the bath or the rod is off is not worked out for positions in several attitudes: leave out search.attitudes to see it for one")
	var used []int
	for _, s := range c.stations {
		used = append(used, slices.IndexFunc(t.hunts, func(h *hunt) bool { return h.start.Attitude == s.Attitude }))
	}
	t.finish(a, used)
	return a, c.addChargeMap(a)
}

// fineOf returns the fine basin of an attitude.
func (t *tour) fineOf(k int) (*Basin, error) {
	var err error
	if t.fine[k] == nil {
		t.fine[k], err = t.hunts[k].screen.fine()
	}
	return t.fine[k], err
}

// closely solves each position in its attitude on the fine lattice, and finds the times anew.
func (t *tour) closely(ctx context.Context, found *search.Tour, patches station.Patches) (*closeUp, error) {
	var c closeUp
	var rates [][]float64
	aim := aimOf(t.hunts[0].Job.Aim)
	for i := range found.Stations {
		k := found.Attitude[i]
		h := t.hunts[k]
		fine, err := t.fineOf(k)
		if err != nil {
			return nil, err
		}
		if err := c.add(ctx, h, &found.Stations[i], fine); err != nil {
			return nil, err
		}
		rates = append(rates, station.Threshold.Rates(aim, c.onto[i]))
	}
	var err error
	if c.schedule, err = station.Plan(patches, aim, rates); err != nil {
		return nil, t.hunts[0].blame(err)
	}
	c.keepWorked()
	return &c, nil
}

// price is what the moves of the positions cost, s.
func (c *closeUp) price() float64 {
	turns := 0
	for i := 1; i < len(c.stations); i++ {
		if c.stations[i].Attitude != c.stations[i-1].Attitude {
			turns++
		}
	}
	return float64(len(c.stations)-1)*search.Price + float64(turns)*search.TurnPrice
}

// sayLiquid adds to each station its attitude and how the tank is filled in it.
func (t *tour) sayLiquid(r *report.Result, c *closeUp) {
	before := 0.0
	for i, s := range c.stations {
		tank := c.solved[i].Basin.Tank
		st := &r.Stations[i]
		st.Stance = &report.StationStance{PitchDeg: degrees(s.Attitude.Pitch), RollDeg: degrees(s.Attitude.Roll),
			LevelMM: 1000 * tank.Filling.Height, LiquidL: litres(tank.LiquidVolume(s.Anodes)), Props: propWords(s.Attitude.Props(tank.Shell.Bounds(), tank.sides()))}
		if i > 0 {
			st.Stance.AddL = st.Stance.LiquidL - before
		}
		before = st.Stance.LiquidL
	}
}

// finish says what each attitude wets and reaches, and which are used.
func (t *tour) finish(a *report.Answer, used []int) {
	wall, first := t.hunts[0].wall, t.hunts[0].attitude
	all := wall.areaWhere(func(int) bool { return true })
	out := &report.Turning{WallM2: all,
		OnlyTurnedM2: wall.areaWhere(func(i int) bool { return !wall.wettedIn(i, first) && wall.Class(i) != 0 }),
		NeverWetM2:   wall.areaWhere(func(i int) bool { return wall.Class(i) == 0 })}
	for k, h := range t.hunts {
		out.Attitudes = append(out.Attitudes, report.TurnedTo{PitchDeg: degrees(h.start.Attitude.Pitch), RollDeg: degrees(h.start.Attitude.Roll),
			WettedM2: h.Filling.Wetted.Area(), ReachableM2: t.reach[k], Used: slices.Contains(used, k)})
	}
	a.Result.Turning = out
}
